// What can be measured on a handle as laid out: caliper distances along the edges, where the round-over
// starts, holes that run into each other.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// What a caliper with straight jaws reads from the front face's own end at an edge to a line's end at the
/// same edge: the straight distance in space between the two corners, mm, never negative. It is not the
/// difference in x: the edge runs at an angle to the handle's axis, and the front face may be slanted or
/// raked.
struct CaliperReach {
  double inner_mm = 0;    ///< between the ends on the inner face of the pieces, before the scale is glued on
  double surface_mm = 0;  ///< between the ends on the finished surface, at the top of the side wall
};
CaliperReach caliper_from_front(const SideLayout& side, const JointLine& line, HandleEdge edge);

/// Where the round-over starts, nearest to a place on the finished surface.
struct RoundOverStart {
  /// In plan; negative where the place lies in the round-over, by how far it does. Infinite when none starts
  /// behind the front face.
  double distance_mm = 0;
  Vec2 at{0, 0};    ///< on the line where it meets the crown; without a round-over on the edge itself
  Vec2 wall{0, 0};  ///< the place of the edge it starts from
};
/// One for each place, in their order; they lie inside the edge. Looks to all sides: square in from a wall
/// under a crown the round-over may start up to twice its radius away, so that the nearest edge need not be
/// the one whose round-over is nearest.
std::vector<RoundOverStart> nearest_round_overs(const SideLayout& side, const std::vector<Vec2>& places);

/// Where a place inside of the handle shows: on the finished surface over it, of its own side, or of `seen`
/// for a place midway between the sides. Places on the edge or outside stay as they are.
Vec3 on_finished_surface(const Handle& handle, Vec3 place, Which seen);

/// Two pins whose holes run into each other in at least one layer.
struct HoleOverlap {
  std::size_t pin = 0;    ///< the lower index
  std::size_t other = 0;  ///< the higher one
  double apart_mm = 0;    ///< between the axes
  double needed_mm = 0;   ///< at which the largest pair of holes would only touch
  std::string layers;     ///< "scales", "scales, liners and tang"
};
/// In the order of the pins. Holes that only touch do not overlap.
std::vector<HoleOverlap> overlapping_holes(const Handle& handle);

}  // namespace haftwright
