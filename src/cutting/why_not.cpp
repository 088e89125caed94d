#include "haftwright/cutting/why_not.hpp"

#include <algorithm>
#include <cmath>

#include "changes.hpp"
#include "haftwright/design/validate.hpp"
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
    const CuttingPlans plans = plan_cutting(*edited, lay_out(*edited), bin_, wishes_, quiet());
    if (plans.plans.empty()) return;
    const std::vector<std::size_t>& without = plans.plans.front().pieces_without;
    if (without.size() + pieces.size() > plans_.plans.front().pieces_without.size()) return;
    if (plans.plans.front().not_kept.size() > plans_.plans.front().not_kept.size()) return;
    answer.changes.push_back({change.words(does), does, *edited});
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
