// The steps of tracing an outline.
#pragma once

#include <optional>
#include <vector>

#include "edge_search.hpp"
#include "haftwright/geometry/outline.hpp"
#include "plane.hpp"

namespace haftwright::pictures {

/// A closed line along an edge, in the photo's pixels.
struct FoundEdge {
  std::vector<Vec2> points;
  double scatter_px = 0;  ///< of neighbours, root of the mean square
  double seen = 0;        ///< share of the places where an edge was found
};
/// Moves a coarse border to the edge in the picture: where, across the border, the light passes halfway
/// between the levels of both sides. `reach_px`: how far the border may be off. The thing lies on the right
/// of the way, as seen, with y down.
FoundEdge edge_near(const LightReader& light, std::vector<Vec2> border, double reach_px);

struct FittedChain {
  std::vector<Node> chain;  ///< a valid outline, counter-clockwise
  double largest_mm = 0;    ///< from the points, at most
};
/// Lines and arcs along points, corners drawn out to where their sides meet: an edge seen through a lens is
/// round there for `blunt_mm`. Nothing where that makes no outline.
std::optional<FittedChain> fitted_chain(const std::vector<Vec2>& points, double tolerance_mm,
                                        double blunt_mm);

}  // namespace haftwright::pictures
