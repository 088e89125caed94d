// Polygons on a grid of one micrometre, and exact questions about them.
//
// Coordinates stay within 1e9 in size (what is given within 2e7), so that a product of two differences fits
// 64 bits with its sign; what is squared beyond that goes through 128 bits.
#pragma once

#include <optional>
#include <polyclipping/clipper.hpp>

#include "haftwright/nesting/problem.hpp"

namespace haftwright::nesting::inner {

using Int = ClipperLib::cInt;
__extension__ typedef __int128 Wide;
using Point = ClipperLib::IntPoint;
using Path = ClipperLib::Path;
using Paths = ClipperLib::Paths;

inline constexpr double kPerMm = 1000;

inline Point operator+(const Point& a, const Point& b) {
  return {a.X + b.X, a.Y + b.Y};
}
inline Point operator-(const Point& a, const Point& b) {
  return {a.X - b.X, a.Y - b.Y};
}
inline bool before(const Point& a, const Point& b) {
  return a.X != b.X ? a.X < b.X : a.Y < b.Y;
}
inline Int cross(const Point& a, const Point& b) {
  return a.X * b.Y - a.Y * b.X;
}
/// Positive: c lies to the left of the line from a to b.
inline Int side(const Point& a, const Point& b, const Point& c) {
  return cross(b - a, c - a);
}
inline const Point& next(const Path& path, std::size_t i) {
  return path[i + 1 == path.size() ? 0 : i + 1];
}

Int to_grid(double mm);
Point to_grid(Vec2 mm);
inline Vec2 to_mm(const Point& p) {
  return {static_cast<double>(p.X) / kPerMm, static_cast<double>(p.Y) / kPerMm};
}
Polygon to_mm(const Path& path);

/// Counter-clockwise, without points that repeat or lie on the line between their neighbours.
Path to_grid(const Polygon& polygon);
Path hull(Path points);
/// The hull of a shape turned about its origin.
Path turned(const Polygon& shape, double angle_deg);
Path moved(const Path& path, const Point& by);
double area_mm2(const Path& path);

struct Box {
  Int left = 0, bottom = 0, right = 0, top = 0;
  bool operator==(const Box&) const = default;
};
Box box_of(const Path& path);
inline Box moved(const Box& box, const Point& by) {
  return {box.left + by.X, box.bottom + by.Y, box.right + by.X, box.top + by.Y};
}
/// Not even their borders meet.
inline bool apart(const Box& a, const Box& b) {
  return a.right < b.left || b.right < a.left || a.top < b.bottom || b.top < a.bottom;
}

/// All of `points` lie to the right of the line from a to b, at least `gap` from it.
bool beyond(const Point& a, const Point& b, const Path& points, Int gap);
/// All lie to the left of it or on it.
bool within(const Point& a, const Point& b, const Path& points);
/// A line along an edge of one parts two convex polygons, with `gap` between; the second moved by `by`.
bool parted(const Path& a, const Path& b, const Point& by, Int gap);
/// The segment from a to b meets the inside of a convex polygon.
bool meets_inside(const Point& a, const Point& b, const Path& convex);
/// A point, given in thirds of a micrometre, lies inside a simple polygon. Points on the border are in or
/// out.
bool holds(const Path& polygon, const Point& thirds);

/// A convex polygon all of whose edges are moved inward by `by` >= 0 micrometres; corners to the nearest
/// micrometre. None when nothing of it is left.
std::optional<Path> shrunk(const Path& convex, double by);

/// Grown (or with by < 0 shrunk) polygons, corners mitred up to twice `by`; counter-clockwise outside.
Paths grown(const Paths& paths, Int by);

/// The part of a simple polygon to the left of the line through a and b.
Paths left_part(const Path& polygon, const Point& a, const Point& b);

}  // namespace haftwright::nesting::inner
