// The steps of an offset. The boundary of the offset shape is part of the raw edges: each edge moved sideways
// by the distance, and an arc round each corner that opens toward the moved side. Cut at all their mutual
// meetings, each slice lies wholly on that boundary or wholly nearer to the outline than the distance; the
// slices that are far enough are put together to loops.
#pragma once

#include <vector>

#include "haftwright/geometry/outline.hpp"
#include "tolerances.hpp"

namespace haftwright::geometry {

/// A slice this much nearer to the outline than the offset distance is dropped: far over the rounding of a
/// distance, and small enough that only slices next to a meeting at a small angle pass wrongly, which
/// then lead nowhere and are pruned.
inline constexpr double kOffsetSlack_mm = 1e-9;

/// Part of a raw edge between two places (given by number).
struct Slice {
  std::size_t raw = 0;
  double t0 = 0;
  double t1 = 1;
  std::size_t from = 0;
  std::size_t to = 0;
  Vec2 middle{0, 0};
  double distance_mm = 0;  ///< of the middle from the outline
};

std::vector<Edge> raw_offset_edges(const Outline& outline, double outward_mm);

struct SlicedEdges {
  std::vector<Slice> slices;
  std::vector<Vec2> places;
};
/// Slices of the raw edges that keep the distance from the outline.
SlicedEdges slice_offset_edges(const Outline& outline, const std::vector<Edge>& raw, double distance_mm);

/// Closed chains made of the slices, inside on the left: counter-clockwise round a part, clockwise round a
/// hole.
std::vector<std::vector<Node>> stitch(const std::vector<Edge>& raw, SlicedEdges sliced);

}  // namespace haftwright::geometry
