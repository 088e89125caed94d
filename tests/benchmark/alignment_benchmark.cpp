// Speed of the clearance of pins, what a drag asks for once a joint end and body, and of the whole report.
#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/tolerance/clearance.hpp"

namespace {

using namespace haftwright;

/// Pins in two staggered rows over 100 mm, clearances of 0.05 to 0.2 mm, holes off by up to 0.02 mm where
/// asked.
std::vector<PinClearance> pins_of(std::size_t count, bool off) {
  std::vector<PinClearance> pins;
  for (std::size_t i = 0; i < count; ++i) {
    const double part = count > 1 ? static_cast<double>(i) / static_cast<double>(count - 1) : 0;
    PinClearance pin{.at_mm = {100 * part, i % 2 == 0 ? 5.0 : -5.0},
                     .radius_mm = 0.025 + 0.075 * static_cast<double>(i * 7 % 5) / 4};
    if (off)
      pin.offset_mm = {0.004 * static_cast<double>(i * 3 % 11) - 0.02,
                       0.02 - 0.008 * static_cast<double>(i % 6)};
    pins.push_back(pin);
  }
  return pins;
}

/// A joint end, 10 mm beyond the last pin on the spine.
const PoseEffect joint_end{.along = {1, 0}, .turn_mm = -14};
const PoseEffect joint_end_below{.along = {1, 0}, .turn_mm = 14};

void exact_clearance(benchmark::State& state, bool off) {
  const std::vector<PinClearance> pins = pins_of(static_cast<std::size_t>(state.range(0)), off);
  double proven_gap = 0;
  for (auto _ : state) {
    const FarthestPose found = farthest(pins, joint_end);
    if (found.kind != ClearanceKind::held) state.SkipWithError("not held");
    proven_gap = found.at_most_mm - found.value_mm;
    benchmark::DoNotOptimize(proven_gap);
  }
  state.counters["gap_mm"] = proven_gap;
}
BENCHMARK_CAPTURE(exact_clearance, true_holes, false)->Arg(2)->Arg(6)->Arg(12)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(exact_clearance, holes_off, true)->Arg(2)->Arg(6)->Arg(12)->Unit(benchmark::kMicrosecond);

void deepest_pose(benchmark::State& state) {
  const std::vector<PinClearance> pins = pins_of(static_cast<std::size_t>(state.range(0)), true);
  for (auto _ : state) benchmark::DoNotOptimize(deepest(pins));
}
BENCHMARK(deepest_pose)->Arg(2)->Arg(12)->Unit(benchmark::kMicrosecond);

void best_pose_for_four_steps(benchmark::State& state) {
  const std::vector<PinClearance> pins = pins_of(static_cast<std::size_t>(state.range(0)), true);
  const std::vector<Step> steps = {
      {0.12, joint_end}, {-0.03, joint_end_below}, {0.08, {{1, 0}, -12}}, {0.02, {{1, 0}, 12}}};
  for (auto _ : state) benchmark::DoNotOptimize(smallest_steps(pins, steps));
}
BENCHMARK(best_pose_for_four_steps)->Arg(2)->Arg(12)->Unit(benchmark::kMicrosecond);

/// All ways side by side and every single change: what the window computes behind an edit.
void whole_report(benchmark::State& state, const char* sample) {
  const Design design = read_project(std::string(HAFTWRIGHT_PROJECTS "/") + sample);
  const Handle handle = lay_out(design);
  double changes = 0;
  for (auto _ : state) {
    const LineUpReport report = assess(design, handle, {.samples = 20'000});
    changes = static_cast<double>(report.what_ifs.size());
    benchmark::DoNotOptimize(changes);
  }
  state.counters["changes"] = changes;
}
BENCHMARK_CAPTURE(whole_report, three_pins, "shucking_knife.json")
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK_CAPTURE(whole_report, twelve_pins, "reed_knife.json")->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
