// Single lines and arcs, where they are no part of an outline.
#pragma once

#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// The tight box round the edge.
Bounds edge_bounds(const Edge& edge);
/// From `p` to the nearest point of the edge, its ends included.
double distance_to_edge_mm(Vec2 p, const Edge& edge);
/// Adds points along the edge, `from` included and `to` not, such that no chord leaves its arc by more than
/// `tolerance_mm` nor spans more than a quarter turn of it. Throws std::invalid_argument unless the tolerance
/// is above 0.
void add_points_along(const Edge& edge, double tolerance_mm, std::vector<Vec2>& points);

}  // namespace haftwright
