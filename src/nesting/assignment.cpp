#include "assignment.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <string>

namespace haftwright::nesting::inner {

namespace {

std::size_t most_patterns_in_a_plan(const Tasks& tasks) {
  std::size_t most = 0;
  for (const Group& group : tasks.groups) {
    std::size_t parts = 1;
    for (const GroupWay& way : group.ways)
      if (!way.one_stock) parts = std::max(parts, way.kinds.size());
    most += parts * group.demands.size();
  }
  return most;
}

}  // namespace

Assignment::Assignment(const Problem& problem, const Tasks& tasks, std::vector<Offer> offers,
                       std::size_t spare)
    : problem_(problem), tasks_(tasks), order_(full_order(problem.rules)), offers_(std::move(offers)) {
  slots_ = tasks.groups.size();
  slot_of_kind_.assign(tasks.kinds.size(), kNoOther);
  for (const Group& group : tasks.groups)
    for (const GroupWay& way : group.ways)
      for (const std::size_t kind : way.kinds)
        if (!way.one_stock) slot_of_kind_[kind] = slots_++;
  leave_out_hopeless(spare);
  for (const Offer& offer : offers_) effects_.push_back(effect_of(offer));
  set_shares();
}

/// In a plan that takes a set of kinds from a stock of another family, at most as many families as it has
/// patterns are in use: among one more that offer the same set for less one is free, and the plan with that
/// is no worse.
void Assignment::leave_out_hopeless(std::size_t spare) {
  const std::size_t families = most_patterns_in_a_plan(tasks_) + spare;
  std::map<std::string, std::vector<std::size_t>> by_kinds;
  for (std::size_t i = 0; i < offers_.size(); ++i)
    by_kinds[{offers_[i].data->counts.begin(), offers_[i].data->counts.end()}].push_back(i);
  std::vector<std::size_t> kept;
  for (auto& [kinds, indices] : by_kinds) {
    std::stable_sort(indices.begin(), indices.end(), [&](std::size_t a, std::size_t b) {
      return compare_by(offers_[a].data->by, offers_[b].data->by, order_) < 0;
    });
    std::set<std::size_t> seen;
    for (const std::size_t i : indices) {
      if (!seen.contains(offers_[i].family) && seen.size() == families) continue;
      seen.insert(offers_[i].family);
      kept.push_back(i);
    }
  }
  std::sort(kept.begin(), kept.end());
  std::vector<Offer> offers;
  for (const std::size_t i : kept) offers.push_back(offers_[i]);
  offers_ = std::move(offers);
}

Assignment::Effect Assignment::effect_of(const Offer& offer) const {
  Effect effect;
  const std::vector<std::uint8_t>& counts = offer.data->counts;
  for (std::size_t g = 0; g < tasks_.groups.size(); ++g) {
    const Group& group = tasks_.groups[g];
    std::uint8_t served = 0;
    bool touched = false;
    for (const GroupWay& way : group.ways) {
      for (const std::size_t kind : way.kinds) {
        if (counts[kind] == 0) continue;
        touched = true;
        if (!way.one_stock) effect.adds.emplace_back(slot_of_kind_[kind], counts[kind]);
        if (kind == way.kinds[0]) effect.rank += std::int64_t{way.rank} * counts[kind];
      }
      if (way.one_stock) served = static_cast<std::uint8_t>(served + counts[way.kinds[0]]);
    }
    if (!touched) continue;
    effect.groups.push_back(g);
    if (served > 0) effect.adds.emplace_back(g, served);
    if (g < 64) effect.serves |= std::uint64_t{1} << g;
  }
  return effect;
}

/// An offer's amounts are shared out evenly over the parts it places, and a demand needs the shares of all
/// parts of one of its ways: no plan serves it for less.
void Assignment::set_shares() {
  constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max() / 4;
  std::vector<Amounts> of_kind(tasks_.kinds.size());
  for (Amounts& amounts : of_kind) amounts.fill(none);
  for (const Offer& offer : offers_) {
    std::int64_t parts = 0;
    for (const std::uint8_t count : offer.data->counts) parts += count;
    for (std::size_t k = 0; k < of_kind.size(); ++k)
      for (std::size_t i = 0; offer.data->counts[k] > 0 && i < kPreferences; ++i) {
        const std::int64_t by = offer.data->by[i];
        of_kind[k][i] = std::min(of_kind[k][i], by >= 0 ? by / parts : by);
      }
  }
  for (const Group& group : tasks_.groups) {
    Amounts least;
    least.fill(none);
    std::int64_t rank = none;
    for (const GroupWay& way : group.ways) {
      Amounts sum{};
      bool offered = true;
      for (const std::size_t kind : way.kinds)
        for (std::size_t i = 0; i < kPreferences; ++i) {
          offered = offered && of_kind[kind][i] < none;
          sum[i] += std::min(of_kind[kind][i], none / 256);
        }
      if (!offered) continue;
      rank = std::min(rank, std::int64_t{way.rank});
      for (std::size_t i = 0; i < kPreferences; ++i) least[i] = std::min(least[i], sum[i]);
    }
    if (rank == none) least.fill(0);
    rank_share_.push_back(rank == none ? 0 : rank);
    share_.push_back(least);
  }
}

}  // namespace haftwright::nesting::inner
