// One step of a blank that is dragged over a board: its nearest place, what is in its way, its drawing.
#include <benchmark/benchmark.h>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/files/project_file.hpp"
#include "haftwright/handle/lay_out.hpp"

namespace {

using namespace haftwright;

void drag_a_blank(benchmark::State& state) {
  const Design design = read_project(HAFTWRIGHT_PROJECTS "/reed_knife.json");
  const Bin bin = read_bin(HAFTWRIGHT_PROJECTS "/bin.json");
  const CuttingWishes wishes{.plans = 1, .blanks_too = true};
  const CuttingPlans plans = plan_cutting(design, lay_out(design), bin, wishes);
  const CuttingPlan& plan = plans.plans.front();
  // The board with the most on it.
  const BoardUse* full = &plan.offcuts.front();
  for (const BoardUse& use : plan.offcuts)
    if (use.blanks.size() > full->blanks.size()) full = &use;
  const HandPlace start = hand_place_of(design, plans.needs, bin, *full, full->blanks.front());
  const BlankInHand hand(design, plans.needs, bin, wishes, plan, start);
  const Bounds box = Outline(bin.offcuts[full->index].outline).bounds();
  double share = 0;
  for (auto _ : state) {
    share += 0.037;
    if (share > 1) share -= 1;
    const BlankInHand::Held held = hand.at(box.low + share * box.size(), start.turn_deg + 3 * share);
    benchmark::DoNotOptimize(in_hand_drawing(plans.needs, held));
  }
  state.counters["on_the_board"] = static_cast<double>(full->blanks.size());
}
BENCHMARK(drag_a_blank)->Unit(benchmark::kMicrosecond);

}  // namespace
