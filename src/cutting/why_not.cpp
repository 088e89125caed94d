#include "haftwright/cutting/why_not.hpp"

#include <algorithm>
#include <cmath>

#include "changes.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/edits/build_up.hpp"
#include "haftwright/geometry/box.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/words/words.hpp"
#include "near_offcuts.hpp"
#include "wood_problem.hpp"

namespace haftwright {
namespace cutting {
namespace {

class WhyNotMaker {
 public:
  WhyNotMaker(const Design& design, const Bin& bin, const CuttingWishes& wishes, const CuttingPlans& plans,
              const nesting::Running& running)
      : design_(design), bin_(bin), wishes_(wishes), plans_(plans), running_(running) {
    wishes_.plans = 1;
  }

  std::vector<WhyNot> all() {
    std::vector<WhyNot> answers;
    for (std::vector<std::size_t>& pieces : failing()) {
      if (running_.stop.stop_requested()) break;
      WhyNot answer{pieces, near_offcuts(design_, plans_.needs, pieces, bin_, wishes_), {}};
      for (const std::size_t piece : pieces) {
        for (const Change& change : changes_for(design_, plans_.needs.pieces[piece]))
          try_change(change, pieces, answer);
        // What is linked is changed on both sides at once.
        if (!answer.changes.empty()) break;
      }
      std::ranges::stable_sort(answer.changes, {}, &CuttingChange::amount);
      part(pieces, answer);
      answers.push_back(std::move(answer));
    }
    return answers;
  }

 private:
  /// Pieces without a place, mates together.
  std::vector<std::vector<std::size_t>> failing() const {
    std::vector<std::vector<std::size_t>> groups;
    const std::vector<std::size_t>& without = plans_.plans.front().pieces_without;
    const auto is_without = [&](std::size_t piece) {
      return std::ranges::find(without, piece) != without.end();
    };
    std::vector<bool> done(plans_.needs.pieces.size());
    for (const Mates& mates : plans_.needs.mates)
      if (is_without(mates.left) && is_without(mates.right)) {
        groups.push_back({mates.left, mates.right});
        done[mates.left] = done[mates.right] = true;
      }
    for (const std::size_t piece : without)
      if (!done[piece]) groups.push_back({piece});
    return groups;
  }

  struct Changed {
    Design design;
    Needs needs;
  };
  /// The handle as changed; none where it can't be made so.
  static std::optional<Changed> changed(const Change& change, double amount) {
    const Edited edited = change.edit(amount);
    if (!edited || !validate(*edited).empty()) return {};
    try {
      return Changed{*edited, needs_of(*edited, lay_out(*edited))};
    } catch (const InputError&) {
      return {};
    }
  }

  /// Whether these pieces have a place when nothing else wants one; what lies somewhere by hand lies there.
  bool placed_alone(const Change& change, double amount, const std::vector<std::size_t>& pieces) const {
    std::optional<Changed> made = changed(change, amount);
    if (!made) return false;
    for (std::size_t i = 0; i < made->needs.pieces.size(); ++i)
      made->needs.pieces[i].at_hand = std::ranges::find(pieces, i) == pieces.end();
    CuttingWishes alone = wishes_;
    alone.blanks_too = false;
    const WoodProblem wood = wood_problem(made->design, made->needs, bin_, alone);
    const nesting::Plans found = nesting::plan(wood.problem, 1, quiet());
    return !found.plans.empty() && found.plans.front().unplaced_demands.empty();
  }

  nesting::Running quiet() const {
    nesting::Running running = running_;
    running.progress = {};
    return running;
  }

  /// The least amount that does, found by halving; kept if everything else keeps its place too.
  void try_change(const Change& change, const std::vector<std::size_t>& pieces, WhyNot& answer) const {
    double fails = 0;
    double does = kFirstTry;
    while (does <= change.most && !placed_alone(change, does, pieces)) {
      fails = does;
      does *= 2;
    }
    if (does > change.most || running_.stop.stop_requested()) return;
    while (does - fails > kChangeStep) {
      const double middle = (fails + does) / 2;
      (placed_alone(change, middle, pieces) ? does : fails) = middle;
    }
    const Edited edited = change.edit(does);
    if (places(*edited, pieces)) answer.changes.push_back({change.words(does), does, *edited});
  }

  /// With that design these pieces have a place, and everything else keeps its own.
  bool places(const Design& edited, const std::vector<std::size_t>& pieces) const {
    const CuttingPlans plans = plan_cutting(edited, lay_out(edited), bin_, wishes_, quiet());
    if (plans.plans.empty()) return false;
    const std::vector<std::size_t>& without = plans.plans.front().pieces_without;
    return without.size() + pieces.size() <= plans_.plans.front().pieces_without.size() &&
           plans.plans.front().not_kept.size() <= plans_.plans.front().not_kept.size();
  }

  /// Two short pieces in place of a long one, glued end to end: the joint as near to its middle as it may lie
  /// without a check failing that did not fail before (a pin in the joint).
  void part(const std::vector<std::size_t>& pieces, WhyNot& answer) const {
    const PieceNeed& need = plans_.needs.pieces[pieces.front()];
    const Bounds box = box_round(need.outline);
    for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7}) {
      const double place_mm = box.low.x + box.size().x * share;
      const Edited edited = add_joint(design_, need.side, place_mm);
      if (!edited || running_.stop.stop_requested() || !is_as_good(*edited)) continue;
      if (places(*edited, pieces))
        answer.changes.push_back({"part the " + need.name + " in two by a joint " +
                                      fine_length(place_mm, design_.shown_unit, 2) + " along the handle",
                                  place_mm, *edited});
      return;
    }
  }

  /// No more checks fail than with the design as it is.
  bool is_as_good(const Design& edited) const {
    if (!validate(edited).empty()) return false;
    try {
      return failing_checks(edited) <= failing_checks(design_);
    } catch (const InputError&) {
      return false;
    }
  }

  static std::size_t failing_checks(const Design& design) {
    const std::vector<Finding> findings = run_checks(design, lay_out(design));
    return static_cast<std::size_t>(std::ranges::count(findings, Status::fail, &Finding::status));
  }

  static constexpr double kFirstTry = 0.5;  // mm or degrees

  const Design& design_;
  const Bin& bin_;
  CuttingWishes wishes_;
  const CuttingPlans& plans_;
  const nesting::Running& running_;
};

}  // namespace
}  // namespace cutting

std::vector<WhyNot> why_not(const Design& design, const Bin& bin, const CuttingWishes& wishes,
                            const CuttingPlans& plans, const nesting::Running& running) {
  if (plans.plans.empty()) return {};
  return cutting::WhyNotMaker(design, bin, wishes, plans, running).all();
}

}  // namespace haftwright
