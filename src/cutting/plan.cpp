#include "haftwright/cutting/plan.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

#include "distinct_plans.hpp"
#include "rods.hpp"
#include "sheet_problem.hpp"
#include "wood_problem.hpp"

namespace haftwright {
namespace {

using namespace cutting;

/// Of the progress, what sheets take; they are few and lie any way round.
constexpr double kSheetsShare = 0.2;

nesting::Running part_of(const nesting::Running& running, double from, double to) {
  nesting::Running part = running;
  if (running.progress)
    part.progress = [running, from, to](double share) { running.progress(from + share * (to - from)); };
  return part;
}

std::vector<std::size_t> needs_without(const nesting::Plan& plan,
                                       const std::vector<std::vector<std::size_t>>& needs) {
  std::vector<std::size_t> without;
  for (const std::size_t demand : plan.unplaced_demands)
    without.insert(without.end(), needs[demand].begin(), needs[demand].end());
  std::ranges::sort(without);
  return without;
}

}  // namespace

Vec2 as_placed(Vec2 point, const PlacedBlank& placed) {
  Vec2 p = point - placed.centre_mm;
  if (placed.mirrored) p.x = -p.x;
  const double turn = glm::radians(placed.turn_deg);
  return placed.at_mm +
         Vec2{p.x * std::cos(turn) - p.y * std::sin(turn), p.x * std::sin(turn) + p.y * std::cos(turn)};
}

CuttingPlans plan_cutting(const Design& design, const Handle& handle, const Bin& bin,
                          const CuttingWishes& wishes, const nesting::Running& running) {
  CuttingPlans answer{needs_of(design, handle), {}};
  const Needs& needs = answer.needs;
  const SheetProblem sheets = sheet_problem(needs, bin, design.rules, wishes);
  const nesting::Plans of_sheets = nesting::plan(sheets.problem, 1, part_of(running, 0, kSheetsShare));
  const WoodProblem wood = wood_problem(design, needs, bin, wishes);
  const std::size_t most = std::max<std::size_t>(1, wishes.plans);
  const nesting::Plans of_wood =
      nesting::plan(wood.problem, most > 1 ? most * kPlansForEach : 1, part_of(running, kSheetsShare, 1));
  const RodPlan rods = plan_rods(needs, bin, design.rules, wishes.project);
  answer.stopped = of_sheets.stopped || of_wood.stopped;
  answer.out_of_time = of_sheets.out_of_time || of_wood.out_of_time;
  if (of_sheets.plans.empty()) return answer;
  for (const nesting::Plan& plan : of_wood.plans) {
    CuttingPlan made;
    made.offcuts = offcuts_of(plan, wood, needs, bin, design.rules);
    made.not_kept = wood.not_kept;
    made.pieces_without = needs_without(plan, wood.needs);
    made.sheets = sheets_of(of_sheets.plans.front(), sheets, needs);
    made.sheets_without = needs_without(of_sheets.plans.front(), sheets.needs);
    made.rods = rods.uses;
    made.pins_without = rods.without;
    made.value = plan.value;
    made.proven_best = plan.proven_best;
    made.against_next = plan.against_next;
    answer.plans.push_back(std::move(made));
  }
  keep_distinct(answer.plans, most, wishes);
  return answer;
}

}  // namespace haftwright
