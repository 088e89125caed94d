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

/// The pin, as a place on one side.
Spot pin_spot(std::size_t pin, Which side);
/// The pin, as a place in the tang.
Spot pin_in_tang(std::size_t pin);
/// A piece of a side.
Spot piece_spot(const Part& piece);
/// Which way `there` lies from `here`.
Toward toward(Vec2 here, Vec2 there);
/// Sets how high a place of the scale lies; `height_mm` is the whole scale's.
void set_level(Spot& spot, double s_mm, double height_mm);

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
PlanHole hole_in_tang(const Design& design, const Pin& pin);

}  // namespace haftwright::checks
