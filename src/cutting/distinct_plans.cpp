#include "distinct_plans.hpp"

#include <algorithm>
#include <compare>

namespace haftwright::cutting {
namespace {

/// A piece on an offcut.
struct Taken {
  std::size_t offcut = 0;
  std::size_t need = 0;
  Pairing pairing = Pairing::single;
  auto operator<=>(const Taken&) const = default;
};

std::vector<Taken> taken_by(const CuttingPlan& plan) {
  std::vector<Taken> taken;
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks) taken.push_back({use.index, blank.need, blank.pairing});
  std::ranges::sort(taken);
  return taken;
}

}  // namespace

void keep_distinct(std::vector<CuttingPlan>& plans, std::size_t most, const CuttingWishes& wishes) {
  std::vector<std::vector<Taken>> seen;
  std::erase_if(plans, [&](const CuttingPlan& plan) {
    std::vector<Taken> taken = taken_by(plan);
    if (seen.size() >= most || std::ranges::find(seen, taken) != seen.end()) return true;
    seen.push_back(std::move(taken));
    return false;
  });
  nesting::Rules rules;
  rules.order = wishes.order;
  for (std::size_t i = 0; i < plans.size(); ++i)
    plans[i].against_next = i + 1 < plans.size() ? nesting::compare(plans[i].value, plans[i + 1].value, rules)
                                                 : nesting::Difference{};
}

}  // namespace haftwright::cutting
