// Speed of the preview: meshes made anew for one drag step, alone and with the edit before them.
#include <benchmark/benchmark.h>

#include <string>

#include "haftwright/checks/checks.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/preview/fold.hpp"
#include "haftwright/preview/meshes.hpp"

namespace {

using namespace haftwright;

Design project(const char* name) {
  return read_project(std::string(HAFTWRIGHT_PROJECTS) + "/" + name);
}

void mesh(benchmark::State& state, const Design& design, const MeshSettings& settings) {
  const Handle handle = lay_out(design);
  std::size_t triangles = 0;
  for (auto _ : state) {
    const Preview preview = build_preview(design, handle, settings);
    triangles = preview.triangle_count();
    benchmark::DoNotOptimize(preview.bodies.data());
  }
  state.counters["triangles"] = static_cast<double>(triangles);
}

void preview_mesh(benchmark::State& state) {
  mesh(state, project("shucking_knife.json"), {});
}
BENCHMARK(preview_mesh)->Unit(benchmark::kMillisecond);

void preview_mesh_uneven_sides(benchmark::State& state) {
  mesh(state, project("paring_knife.json"), {});
}
BENCHMARK(preview_mesh_uneven_sides)->Unit(benchmark::kMillisecond);

void preview_mesh_still(benchmark::State& state) {
  mesh(state, project("shucking_knife.json"), MeshSettings::fine());
}
BENCHMARK(preview_mesh_still)->Unit(benchmark::kMillisecond);

void fold_view(benchmark::State& state) {
  const Design design = project("shucking_knife.json");
  const Handle handle = lay_out(design);
  for (auto _ : state) benchmark::DoNotOptimize(draw_fold(design, handle));
}
BENCHMARK(fold_view)->Unit(benchmark::kMillisecond);

/// One step of a drag, all but the drawing.
void one_edit_with_preview(benchmark::State& state) {
  const Design design = project("shucking_knife.json");
  for (auto _ : state) {
    const Handle handle = lay_out(design);
    benchmark::DoNotOptimize(run_checks(design, handle));
    benchmark::DoNotOptimize(build_preview(design, handle));
  }
}
BENCHMARK(one_edit_with_preview)->Unit(benchmark::kMillisecond);

}  // namespace
