// The shop beside its projects: what stays the same from one handle to the next, as one plain value.
//
// A project holds the values in force itself, so that it means the same anywhere; edits/shop_values.hpp says
// where it differs from the shop and takes values over in either direction.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/design/design.hpp"

namespace haftwright {

/// A drill or reamer in the shop's drawer. It may stand twice: measured in a metal, and in anything else.
struct OwnedDrill {
  std::string drill;                  ///< label of a listed one
  std::optional<double> diameter_mm;  ///< of the hole that it was measured to make; none: not measured
  std::string measured_in;  ///< key of the material that hole was in; empty: it makes the same in any
  bool operator==(const OwnedDrill&) const = default;
};

struct Shop {
  std::vector<OwnedDrill> drills;
  Adhesive adhesive;
  GuideHabits guide;
  ShopRules rules;
  DrillingHabits drilling;
  bool operator==(const Shop&) const = default;
};

}  // namespace haftwright
