// Straight stretches between two points.
#pragma once

#include <algorithm>

#include "haftwright/geometry/vec.hpp"

namespace haftwright {

/// From `p` to the nearest point between `from` and `to`, both included; they may be the same.
inline double distance_to_segment_mm(Vec2 p, Vec2 from, Vec2 to) {
  const Vec2 along = to - from;
  const double squares = glm::dot(along, along);
  const double part = squares > 0 ? std::clamp(glm::dot(p - from, along) / squares, 0.0, 1.0) : 0;
  return glm::distance(p, from + part * along);
}

}  // namespace haftwright
