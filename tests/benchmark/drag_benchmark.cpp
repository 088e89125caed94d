// Processor time of one step of a drag on the largest sample: the core (layout, checks, estimates), the
// preview's mesh and its way into the graphics buffers. What the graphics card would do is left out: with no
// card here the drawing would take the processor too. Times are of this thread alone, so that a busy machine
// blurs them less.
#include <benchmark/benchmark.h>
#include <time.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "haftwright/edits/edits.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/preview/fold.hpp"
#include "haftwright/preview/meshes.hpp"
#include "haftwright/preview/mismatch.hpp"
#include "haftwright/render/offscreen.hpp"
#include "haftwright/session/document.hpp"

namespace {

using namespace haftwright;

constexpr int kSteps = 400;
constexpr double kReachMm = 4;

double thread_ms() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) / 1e6;
}

/// The value that a share of all values does not exceed.
double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values[std::min(values.size() - 1,
                         static_cast<std::size_t>(share * static_cast<double>(values.size())))];
}

/// Times of one part of every step.
struct Part {
  const char* name;
  std::vector<double> ms;
};

using Move = std::function<Edited(const Design& base, double by_mm)>;

void drag(benchmark::State& state, const Move& move) {
  Document document(read_project(std::string(HAFTWRIGHT_PROJECTS) + "/reed_knife.json"));
  const OffscreenContext context;
  SceneView view;
  Part parts[] = {{"core", {}}, {"mesh", {}}, {"upload", {}}, {"all", {}}};
  document.begin("drag");
  int step = 0;
  for (auto _ : state) {
    const double by_mm = kReachMm * std::sin(0.05 * ++step);
    const double began = thread_ms();
    const Outcome outcome = document.preview(move(document.base(), by_mm));
    const double derived = thread_ms();
    if (outcome != Outcome::changed) {
      state.SkipWithError("the drag is refused");
      break;
    }
    const Answers& answers = *document.answers();
    const Preview preview =
        build_preview(*answers.design, *answers.handle, MeshSettings::dragging(*answers.handle));
    const double meshed = thread_ms();
    view.set_preview(preview, pair_joint_lines(*answers.handle));
    const double uploaded = thread_ms();
    const double times[] = {derived - began, meshed - derived, uploaded - meshed, uploaded - began};
    for (std::size_t i = 0; i < std::size(times); ++i) parts[i].ms.push_back(times[i]);
  }
  for (const Part& part : parts) {
    if (part.ms.empty()) continue;
    state.counters[std::string(part.name) + "_p50_ms"] = quantile(part.ms, 0.5);
    state.counters[std::string(part.name) + "_p95_ms"] = quantile(part.ms, 0.95);
  }
}

void drag_step_pin(benchmark::State& state) {
  drag(state, [](const Design& base, double by_mm) {
    return move_pin(base, 5, base.pins[5].at_mm + Vec2{by_mm, 0});
  });
}
BENCHMARK(drag_step_pin)->Iterations(kSteps)->Unit(benchmark::kMillisecond);

void drag_step_joint(benchmark::State& state) {
  drag(state, [](const Design& base, double by_mm) {
    return move_joint(base, Which::left, 5, base.left.joints[5].place_mm + by_mm / 4);
  });
}
BENCHMARK(drag_step_joint)->Iterations(kSteps)->Unit(benchmark::kMillisecond);

/// A thickness moves the whole surface, so every part is made anew.
void drag_step_thickness(benchmark::State& state) {
  drag(state, [](const Design& base, double by_mm) {
    Design design = base;
    design.left.finish.thickness_mm[0].value += by_mm / 8;
    return Edited(design);
  });
}
BENCHMARK(drag_step_thickness)->Iterations(kSteps)->Unit(benchmark::kMillisecond);

}  // namespace
