// Maps of the plane: turned, scaled, sheared, mirrored, shifted.
#pragma once

#include <cmath>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::intake {

/// p -> x_axis p.x + y_axis p.y + shift.
struct Affine {
  Vec2 x_axis{1, 0};
  Vec2 y_axis{0, 1};
  Vec2 shift{0, 0};

  Vec2 direction(Vec2 v) const { return x_axis * v.x + y_axis * v.y; }
  Vec2 operator()(Vec2 p) const { return direction(p) + shift; }
  /// First the other one, then this one.
  Affine after(const Affine& first) const {
    return {direction(first.x_axis), direction(first.y_axis), (*this)(first.shift)};
  }
  double determinant() const { return cross(x_axis, y_axis); }
  bool mirrors() const { return determinant() < 0; }
  /// Turns, mirrors and scales alike in all directions, within rounding.
  bool keeps_circles() const {
    const double x = glm::dot(x_axis, x_axis);
    const double y = glm::dot(y_axis, y_axis);
    return std::abs(x - y) <= 1e-9 * x && std::abs(glm::dot(x_axis, y_axis)) <= 1e-9 * x;
  }

  static Affine shifted(Vec2 by) { return {{1, 0}, {0, 1}, by}; }
  static Affine scaled(double x, double y) { return {{x, 0}, {0, y}, {0, 0}}; }
  static Affine turned(double radians) {
    const double c = std::cos(radians);
    const double s = std::sin(radians);
    return {{c, s}, {-s, c}, {0, 0}};
  }
};

}  // namespace haftwright::intake
