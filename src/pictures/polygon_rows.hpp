// Which pixels of a row lie in a polygon.
#pragma once

#include <vector>

#include "haftwright/geometry/vec.hpp"
#include "plane.hpp"

namespace haftwright::pictures {

/// Where the line y = `row` crosses the polygon's sides, in order: two by two the polygon lies between them.
void find_crossings(const std::vector<Vec2>& polygon, double row, std::vector<double>& crossings);

/// 1 for pixels whose middles lie in the polygon.
Mask inside_of(const std::vector<Vec2>& polygon, int width, int height);

}  // namespace haftwright::pictures
