#include "tasks.hpp"

#include <algorithm>

namespace haftwright::nesting {

Difference compare(const Value& first, const Value& second, const Rules& rules) {
  if (first.unplaced != second.unplaced)
    return {Decision::unplaced, Preference::small_stocks, first.unplaced < second.unplaced};
  if (first.rank != second.rank) return {Decision::rank, Preference::small_stocks, first.rank < second.rank};
  for (const Preference preference : inner::full_order(rules)) {
    const auto i = static_cast<std::size_t>(preference);
    if (first.by[i] != second.by[i]) return {Decision::preference, preference, first.by[i] < second.by[i]};
  }
  return {};
}

namespace inner {

namespace {

void add_way(Tasks& tasks, Group& group, std::size_t group_index, const Way& way, std::size_t way_index,
             const std::vector<const Fixed*>& fixed) {
  GroupWay added{way_index, way.rank, way.on_one_stock, {}};
  for (std::size_t p = 0; p < way.parts.size(); ++p) {
    const auto is_it = [&](const Fixed* f) { return f->part == p; };
    if (std::any_of(fixed.begin(), fixed.end(), is_it)) continue;
    Kind kind{group_index, group.ways.size(), p, &way.parts[p], kNoOther};
    if (way.on_one_stock && !fixed.empty()) kind.only_stock = fixed[0]->stock;
    added.kinds.push_back(tasks.kinds.size());
    tasks.kinds.push_back(kind);
  }
  added.one_stock = way.on_one_stock || added.kinds.size() == 1;
  group.ways.push_back(std::move(added));
}

}  // namespace

Tasks tasks_of(const Problem& problem) {
  Tasks tasks;
  for (std::size_t d = 0; d < problem.demands.size(); ++d) {
    const Demand& demand = problem.demands[d];
    std::vector<const Fixed*> fixed;
    for (const Fixed& f : problem.fixed)
      if (f.demand == d) fixed.push_back(&f);
    const auto is_free = [&](std::size_t other) {
      return std::none_of(problem.fixed.begin(), problem.fixed.end(),
                          [&](const Fixed& f) { return f.demand == other; });
    };
    const auto alike = std::find_if(tasks.groups.begin(), tasks.groups.end(), [&](const Group& group) {
      return fixed.empty() && is_free(group.demands[0]) && problem.demands[group.demands[0]] == demand;
    });
    if (alike != tasks.groups.end()) {
      alike->demands.push_back(d);
      continue;
    }
    if (!fixed.empty() && fixed.size() == demand.ways[fixed[0]->way].parts.size()) continue;
    Group group{{d}, {}};
    for (std::size_t w = 0; w < demand.ways.size(); ++w)
      if (fixed.empty() || fixed[0]->way == w)
        add_way(tasks, group, tasks.groups.size(), demand.ways[w], w, fixed);
    tasks.groups.push_back(std::move(group));
  }
  return tasks;
}

std::size_t demands_needed(const Tasks& tasks, std::size_t group, const std::vector<std::uint8_t>& counts) {
  std::size_t needed = 0;
  for (const GroupWay& way : tasks.groups[group].ways) {
    std::uint8_t most = 0;
    for (const std::size_t kind : way.kinds) most = std::max(most, counts[kind]);
    needed += most;
  }
  return needed;
}

std::array<Preference, kPreferences> full_order(const Rules& rules) {
  std::vector<Preference> order = rules.order;
  for (std::size_t i = 0; i < kPreferences; ++i)
    if (std::find(order.begin(), order.end(), static_cast<Preference>(i)) == order.end())
      order.push_back(static_cast<Preference>(i));
  std::array<Preference, kPreferences> result{};
  std::copy_n(order.begin(), kPreferences, result.begin());
  return result;
}

int compare_by(const std::array<std::int64_t, kPreferences>& first,
               const std::array<std::int64_t, kPreferences>& second,
               const std::array<Preference, kPreferences>& order) {
  for (const Preference preference : order) {
    const auto i = static_cast<std::size_t>(preference);
    if (first[i] != second[i]) return first[i] < second[i] ? -1 : 1;
  }
  return 0;
}

}  // namespace inner
}  // namespace haftwright::nesting
