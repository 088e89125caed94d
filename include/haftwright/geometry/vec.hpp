// Points and directions in the plane and in space, millimetres.
#pragma once

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace haftwright {

using Vec2 = glm::dvec2;
using Vec3 = glm::dvec3;

/// z component of the cross product: positive when b lies to the left of a.
inline double cross(Vec2 a, Vec2 b) {
  return a.x * b.y - a.y * b.x;
}
/// v turned a quarter turn counter-clockwise.
inline Vec2 turned_left(Vec2 v) {
  return {-v.y, v.x};
}

}  // namespace haftwright
