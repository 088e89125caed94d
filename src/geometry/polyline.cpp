#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "haftwright/geometry/outline_ops.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

std::vector<Vec2> polyline(const Outline& outline, double tolerance_mm) {
  if (!(tolerance_mm > 0)) throw std::invalid_argument("the tolerance of a polyline must be above 0");
  std::vector<Vec2> points;
  for (const Edge& edge : outline.edges()) {
    points.push_back(edge.from);
    if (!edge.is_arc()) continue;
    // A chord over the angle s leaves its arc by 2 r sin^2(s / 4).
    const double step = 4 * std::asin(std::min(1.0, std::sqrt(tolerance_mm / (2 * edge.radius))));
    const double parts = std::ceil(std::abs(edge.sweep) / std::min(step, kPi / 2));
    for (int i = 1; i < parts; ++i) points.push_back(edge.point(i / parts));
  }
  return points;
}

}  // namespace haftwright
