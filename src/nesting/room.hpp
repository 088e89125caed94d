// A stock made ready: where shapes may lie on it, and at which places a shape touches what bounds it.
#pragma once

#include <vector>

#include "grid.hpp"

namespace haftwright::nesting::inner {

/// A border, the free side to its left.
struct Border {
  Point a, b;
  Box box;
};
/// A corner that the free side goes round: the borders' directions before and after it.
struct Corner {
  Point at, before, after;
};

struct Room {
  Paths usable;     ///< the outline less its trim, counter-clockwise
  Paths keep_outs;  ///< grown by the margin, counter-clockwise
  std::vector<Border> borders;
  std::vector<Corner> corners;
  Box box;              ///< of `usable`
  double area_mm2 = 0;  ///< of `usable`
  Path usable_hull;
};

/// Empty `usable` where nothing is left within the trim.
Room room_of(const Stock& stock, const Rules& rules);
/// Sets what follows from `usable` and `keep_outs`.
void finish(Room& room);

/// A convex outline about its own origin, made ready to be tried at many places.
struct Shape {
  Path outline;
  Box box;
  Point thirds;  ///< three times a point inside
};
Shape shape_of(Path outline);

/// A shape at one turn.
struct Turned {
  Shape full;
  /// Shrunk by a little more than rounding moves a place: where this does not fit, no place beside fits the
  /// full one.
  Shape loose;
};
Turned turned_of(Path outline);

/// Within the usable outline and clear of the keep-outs, at `at`.
bool legal_in(const Room& room, const Shape& shape, const Point& at);
/// All that lies on a stock beside the shape.
struct Others {
  std::vector<Path> outlines;
  Int gap = 0;
  /// Saw cuts along the others' edges bound the space as well: right through, a kerf wide.
  bool through = false;
};
bool legal_at(const Room& room, const Shape& shape, const Others& others, const Point& at);

/// Places of the shape's origin for which its border touches a border: the free space is bounded by these.
struct Contact {
  Point a, b;
};
std::vector<Contact> contacts(const Room& room, const Path& outline, const Others& others);

/// Legal places where two contacts meet or one ends; sorted, each once. If there is any legal place at all,
/// there is one of these, but for places that leave less than the rounding of a few micrometres.
std::vector<Point> free_corners(const Room& room, const Turned& shape, const Others& others);
/// A saw cut along an edge of another, right through, would touch the shape once it went by `step`, but not
/// before.
bool stopped_by_cut(const Path& outline, const Others& others, const Point& at, const Point& step);
/// There is such a place: stops at the first.
std::optional<Point> any_place(const Room& room, const Turned& shape, const Others& others);
/// False: proven that the convex shape shrunk by `by` micrometres has no place, and so has none that contains
/// it.
bool shrunk_has_place(const Room& room, const Path& outline, double by, const Others& others);

}  // namespace haftwright::nesting::inner
