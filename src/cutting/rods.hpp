// Pins out of rods: lengths along a line.
#pragma once

#include <vector>

#include "haftwright/cutting/plan.hpp"

namespace haftwright::cutting {

struct RodPlan {
  std::vector<RodUse> uses;
  std::vector<std::size_t> without;  ///< pins that no rod serves
};

/// Which rod each pin is sawn from: as many pins as can be, then the least total length of rods that are
/// begun, exactly (all ways are gone through) up to kMostPinsExactly pins of one stock; longest first into
/// the shortest rod that serves above that.
inline constexpr std::size_t kMostPinsExactly = 8;
RodPlan plan_rods(const Needs& needs, const Bin& bin, const ShopRules& rules, const std::string& project);

}  // namespace haftwright::cutting
