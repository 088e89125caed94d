// Speed, in one run: an edit against the exact solids, growth with pieces and pins, and the STEP file.
// The figures of one run are comparable with each other; those of two runs on a shared machine are not.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <map>
#include <string>

#include "haftwright/checks/checks.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/volumes.hpp"
#include "haftwright/solids/solids.hpp"

namespace {

using namespace haftwright;

Design sample() {
  return read_project(std::string(HAFTWRIGHT_PROJECTS) + "/shucking_knife.json");
}

/// A handle of `pieces` equal pieces and `pins` pins in two rows.
Design many(std::size_t pieces, std::size_t pins) {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  const double length = StraightTang{}.length_mm;
  Piece piece = design.left.pieces.front();
  piece.id.clear();
  Joint joint = design.left.joints.front();
  joint.spacers.clear();
  joint.id.clear();
  design.left.pieces.assign(pieces, piece);
  design.left.joints.clear();
  for (std::size_t i = 1; i < pieces; ++i) {
    joint.place_mm = length * static_cast<double>(i) / static_cast<double>(pieces);
    design.left.joints.push_back(joint);
  }
  Pin pin = design.pins.front();
  pin.id.clear();
  design.pins.clear();
  for (std::size_t i = 0; i < pins; ++i) {
    design.pins.push_back(pin);
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(pins);
    design.pins.back().name = "pin " + std::to_string(i + 1);
    design.pins.back().at_mm = {3 + share * (length - 6), i % 2 == 0 ? 5.0 : -5.0};
  }
  return design;
}

void edit(benchmark::State& state, const Design& design) {
  for (auto _ : state) {
    const Handle handle = lay_out(design);
    benchmark::DoNotOptimize(run_checks(design, handle));
  }
}

void one_edit(benchmark::State& state) {
  edit(state, sample());
}
BENCHMARK(one_edit)->Unit(benchmark::kMillisecond);

/// What is measured when it is asked for and not with an edit.
void all_volumes(benchmark::State& state) {
  const Design design = sample();
  const Handle handle = lay_out(design);
  for (auto _ : state) benchmark::DoNotOptimize(volumes_of(design, handle));
}
BENCHMARK(all_volumes)->Unit(benchmark::kMillisecond);

void exact_solids(benchmark::State& state) {
  const Design design = sample();
  const Handle handle = lay_out(design);
  for (auto _ : state) benchmark::DoNotOptimize(build_handle(design, handle));
}
BENCHMARK(exact_solids)->Unit(benchmark::kMillisecond)->MinTime(3);

void drill_guide_body(benchmark::State& state) {
  const Design design = sample();
  const DrillGuide guide = lay_out_guide(design, lay_out(design));
  for (auto _ : state) benchmark::DoNotOptimize(build_guide(guide));
}
BENCHMARK(drill_guide_body)->Unit(benchmark::kMillisecond)->MinTime(1);

void drill_guide_plan(benchmark::State& state) {
  const Design design = sample();
  const Handle handle = lay_out(design);
  for (auto _ : state) benchmark::DoNotOptimize(lay_out_guide(design, handle));
}
BENCHMARK(drill_guide_plan)->Unit(benchmark::kMillisecond);

void step_text(benchmark::State& state) {
  const Design design = sample();
  const auto made = build_handle(design, lay_out(design));
  const Bodies& bodies = *made;
  for (auto _ : state) benchmark::DoNotOptimize(bodies.step_text("sample"));
}
BENCHMARK(step_text)->Unit(benchmark::kMillisecond);

void edit_by_pieces(benchmark::State& state) {
  edit(state, many(static_cast<std::size_t>(state.range(0)), 4));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(edit_by_pieces)->RangeMultiplier(2)->Range(2, 64)->Unit(benchmark::kMillisecond)->Complexity();

void edit_by_pins(benchmark::State& state) {
  edit(state, many(4, static_cast<std::size_t>(state.range(0))));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(edit_by_pins)->RangeMultiplier(2)->Range(2, 64)->Unit(benchmark::kMillisecond)->Complexity();

/// Prints as usual and keeps the processor times, so that ratios come from the same run and hold on a busy
/// machine too.
class Keeper : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    for (const Run& run : runs)
      if (run.run_type == Run::RT_Iteration)
        seconds[run.run_name.function_name + "/" + run.run_name.args] =
            run.cpu_accumulated_time / static_cast<double>(run.iterations);
    ConsoleReporter::ReportRuns(runs);
  }
  /// Printed where both were run.
  void print_ratio(const char* words, const std::string& a, const std::string& b) const {
    const auto top = seconds.find(a);
    const auto bottom = seconds.find(b);
    if (top == seconds.end() || bottom == seconds.end()) return;
    std::printf("  %-36s %8.2f\n", words, top->second / bottom->second);
  }
  std::map<std::string, double> seconds;
};

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  Keeper keeper;
  benchmark::RunSpecifiedBenchmarks(&keeper);
  std::printf("\nRatios of this run\n");
  keeper.print_ratio("exact solids / one edit", "exact_solids/", "one_edit/");
  keeper.print_ratio("exact solids / edit with preview", "exact_solids/", "one_edit_with_preview/");
  keeper.print_ratio("exact solids / preview mesh", "exact_solids/", "preview_mesh/");
  keeper.print_ratio("exact solids / kernel's own steps", "exact_solids/", "kernel_steps/");
  keeper.print_ratio("plain loop of samples / samples", "samples_of_a_handle_by_a_plain_loop/",
                     "samples_of_a_handle/1");
  keeper.print_ratio("plain loop, same numbers / samples", "the_same_samples_by_a_plain_loop/",
                     "samples_of_a_handle/1");
  keeper.print_ratio("volumes / one edit", "all_volumes/", "one_edit/");
  keeper.print_ratio("64 pieces / 2 pieces (32 x the size)", "edit_by_pieces/64", "edit_by_pieces/2");
  keeper.print_ratio("64 pins / 2 pins (32 x the size)", "edit_by_pins/64", "edit_by_pins/2");
}
