// An independent look at plans: exact on the micrometre grid, no code shared with the room. Each check
// returns what is wrong, or nothing.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "haftwright/nesting/plan.hpp"

namespace haftwright::test {

__extension__ typedef __int128 Wide;

struct GridPoint {
  std::int64_t x = 0, y = 0;
  bool operator==(const GridPoint&) const = default;
};
using GridPath = std::vector<GridPoint>;

/// Counter-clockwise.
GridPath grid_path(const nesting::Polygon& polygon);
/// The convex hull of a shape as it lies (by gift wrapping).
GridPath laid(const nesting::Polygon& shape, Vec2 at_mm, double angle_deg);
/// The open inside of a convex polygon meets a segment (by clipping the segment with fractions).
bool inside_meets(const GridPath& convex, GridPoint a, GridPoint b);
bool holds_point(const GridPath& polygon, GridPoint p);  ///< inside or on the border
/// The insides of two convex polygons meet, or they are nearer to each other than `gap_um`.
bool nearer_than(const GridPath& a, const GridPath& b, std::int64_t gap_um);
/// A convex polygon lies in a simple one and at least `trim_um` from its border.
bool lies_within(const GridPath& convex, const GridPath& outline, std::int64_t trim_um);
/// A convex polygon lies outside of a simple one and at least `margin_um` from it.
bool lies_clear(const GridPath& convex, const GridPath& keep_out, std::int64_t margin_um);
double area_um2(const GridPath& path);

/// The part of a polygon to the left of a line, in doubles; parts may hang together by lines without width.
std::vector<Vec2> left_of(const std::vector<Vec2>& polygon, Vec2 a, Vec2 b);
double area_mm2(const std::vector<Vec2>& polygon);

/// All that a plan must keep, placements first, then every cut carried out; empty where nothing is wrong.
std::string wrong_with(const nesting::Problem& problem, const nesting::Plan& plan);

}  // namespace haftwright::test
