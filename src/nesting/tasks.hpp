// A Problem made ready for the search: what is fixed is taken out, alike demands are counted together.
#pragma once

#include <map>
#include <vector>

#include "haftwright/nesting/plan.hpp"
#include "room.hpp"

namespace haftwright::nesting::inner {

/// A part of a way of a group of alike demands: what patterns are made of. Parts of alike demands are one
/// kind.
struct Kind {
  std::size_t group = 0, way = 0;  ///< way: index in Group::ways
  std::size_t part = 0;            ///< of the problem's way
  const Part* data = nullptr;
  std::size_t only_stock = kNoOther;  ///< where mates that are fixed lie
};

struct GroupWay {
  std::size_t way = 0;  ///< of the problem's demand
  int rank = 0;
  bool one_stock =
      false;  ///< its parts are placed by one pattern: together on one stock, or there is but one
  std::vector<std::size_t> kinds;  ///< one for each part that is not fixed
};

/// Demands that differ in nothing.
struct Group {
  std::vector<std::size_t> demands;
  std::vector<GroupWay> ways;
};

struct Tasks {
  std::vector<Group> groups;
  std::vector<Kind> kinds;
};
Tasks tasks_of(const Problem& problem);

/// How many demands of its group the kinds in `counts` (by kind) need at least.
std::size_t demands_needed(const Tasks& tasks, std::size_t group, const std::vector<std::uint8_t>& counts);

/// Where each of the preferences stands in Rules::order.
std::array<Preference, kPreferences> full_order(const Rules& rules);
/// Negative: the first is better; compared by preferences in order.
int compare_by(const std::array<std::int64_t, kPreferences>& first,
               const std::array<std::int64_t, kPreferences>& second,
               const std::array<Preference, kPreferences>& order);

}  // namespace haftwright::nesting::inner
