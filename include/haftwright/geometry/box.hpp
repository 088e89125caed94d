// The box round points, along x and y.
#pragma once

#include <glm/common.hpp>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// Of one point or more.
inline Bounds box_round(const std::vector<Vec2>& points) {
  Bounds box{points.front(), points.front()};
  for (const Vec2 p : points) {
    box.low = glm::min(box.low, p);
    box.high = glm::max(box.high, p);
  }
  return box;
}

inline Vec2 middle_of(const Bounds& box) {
  return (box.low + box.high) * 0.5;
}

}  // namespace haftwright
