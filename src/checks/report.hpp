// What every check needs: the design and its handle, a place for findings, and a maker's words for places and
// lengths.
#pragma once

#include <string>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright::checks {

inline constexpr Which kBothSides[] = {Which::left, Which::right};

/// Judges and collects the findings of one check.
struct Report {
  const Design& design;
  const Handle& handle;
  std::vector<Finding>& findings;

  /// Adds a finding, its status judged from its value and limit.
  void add(Finding finding) const;
};

/// "pin 2 (front)"; the name is left out where it says no more than the number.
std::string pin_words(const Design& design, std::size_t pin);
/// "left side".
std::string side_words(Which side);
/// "0.050 mm (0.0020 in)", the shown unit first.
std::string length_words(double mm, LengthUnit shown);
/// "toward the belly": which way `there` lies from `here`.
std::string toward_words(Vec2 here, Vec2 there);
/// "at the finished surface" or "at the inner face" or how high above it; `height_mm` is the whole scale's.
std::string depth_words(double s_mm, double height_mm, LengthUnit shown);
/// The rule's basis and its key, by which the maker finds it among the shop rules.
std::string basis_words(double ShopRules::*rule);

/// The point over `p`, `s_mm` above the inner face of a side's pieces, in the handle's frame.
Vec3 on_side(const Handle& handle, Which side, Vec2 p, double s_mm);

/// A round hole seen along the pin's axis. The axis runs along z, so it shows as a true circle in plan,
/// tapered tang or not.
struct PlanHole {
  Vec2 at{0, 0};
  double diameter_mm = 0;
};
PlanHole scale_hole(const Pin& pin);
/// The hole's rim where it is nearest to a place outside it; its centre when that is the place.
Vec2 rim_toward(const PlanHole& hole, Vec2 there);
/// Through the tang: the pin's own hole, or the one that is there already.
PlanHole tang_hole(const Design& design, const Pin& pin);

}  // namespace haftwright::checks
