#include "haftwright/geometry/edge_measures.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "edge_geometry.hpp"
#include "tolerances.hpp"

namespace haftwright {

Bounds edge_bounds(const Edge& edge) {
  return geometry::bounds_of(edge);
}

double distance_to_edge_mm(Vec2 p, const Edge& edge) {
  return std::sqrt(geometry::foot_on(edge, p).distance_squared);
}

void add_points_along(const Edge& edge, double tolerance_mm, std::vector<Vec2>& points) {
  if (!(tolerance_mm > 0)) throw std::invalid_argument("the tolerance of a polyline must be above 0");
  points.push_back(edge.from);
  if (!edge.is_arc()) return;
  // A chord over the angle s leaves its arc by 2 r sin^2(s / 4).
  const double step = 4 * std::asin(std::min(1.0, std::sqrt(tolerance_mm / (2 * edge.radius))));
  const double parts = std::ceil(std::abs(edge.sweep) / std::min(step, geometry::kPi / 2));
  for (int i = 1; i < parts; ++i) points.push_back(edge.point(i / parts));
}

}  // namespace haftwright
