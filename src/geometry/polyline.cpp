#include "haftwright/geometry/edge_measures.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright {

std::vector<Vec2> polyline(const Outline& outline, double tolerance_mm) {
  std::vector<Vec2> points;
  for (const Edge& edge : outline.edges()) add_points_along(edge, tolerance_mm, points);
  return points;
}

}  // namespace haftwright
