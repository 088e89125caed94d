// A small motion in the plan.
#pragma once

#include "haftwright/geometry/vec.hpp"

namespace haftwright {

/// A small motion of a scale against what it is pinned to.
struct Pose {
  Vec2 shift_mm{0, 0};
  double turn_rad = 0;
  Vec2 motion_of(Vec2 p) const { return {shift_mm.x - turn_rad * p.y, shift_mm.y + turn_rad * p.x}; }
  bool operator==(const Pose&) const = default;
};

}  // namespace haftwright
