// Exact operations on outlines: every result is lines and arcs again.
#pragma once

#include <span>
#include <stdexcept>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// An outline with holes in it. Hole outlines are counter-clockwise too; they lie inside `outer`.
struct Region {
  Outline outer;
  std::vector<Outline> holes;
  double area_mm2() const;
};

/// All points nearer than `outward_mm` to the outline's inside (outward_mm > 0), or deeper inside than
/// -outward_mm (outward_mm < 0). Arcs stay arcs, convex corners become arcs when growing, loops that vanish
/// are dropped; a waist may part a shape into several regions, a closing bay leaves a hole. Sorted by first
/// node x. 0 gives the outline itself; when nothing is left the result is empty. Places of the result closer
/// than 1e-7 mm are one. Throws std::invalid_argument for a distance that is not finite.
std::vector<Region> offset(const Outline& outline, double outward_mm);

/// The points p with dot(normal, p) <= limit. `normal` need not have unit length.
struct HalfPlane {
  Vec2 normal{1, 0};
  double limit = 0;
};

/// The part of an outline inside a half-plane, as zero or more outlines, exact. Slivers under 1e-9 mm2 are
/// dropped. Nodes within 1e-9 mm of the line count as on it. Throws std::invalid_argument for a normal of no
/// length.
std::vector<Outline> clip(const Outline& outline, const HalfPlane& keep);
std::vector<Outline> clip(const std::vector<Outline>& outlines, const HalfPlane& keep);

/// Where the endless line through `origin` along `direction` crosses the outline: sorted by the signed
/// distance along the (normalised) direction. Touching without crossing is left out; where the boundary runs
/// along the line on its way through, the crossing is the first end of that stretch in the chain's order.
struct Crossing {
  double along_mm = 0;
  Vec2 point{0, 0};
  std::size_t edge = 0;
};
std::vector<Crossing> crossings(const Outline& outline, Vec2 origin, Vec2 direction);

/// True when `inner` lies wholly inside `outer` (touching within 1e-9 mm counts as inside).
bool contains(const Outline& outer, const Outline& inner);
/// Least distance between the two boundaries; 0 when they cross.
double boundary_distance_mm(const Outline& a, const Outline& b);

enum class End { front, butt };
/// An end that can't be drawn out: it comes to a point between spine and belly, or other parts of the outline
/// hem it in.
class EndError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};
/// Draws one end out by `by_mm` (>= 0) along x: the edges round the foremost (front) or rearmost (butt)
/// point move as they are, and straight bridges along x close the gap. The end reaches up to the first corner
/// sharper than 15 degrees, the first place running along x, or the first edge that runs within 15 degrees of
/// x all along (spine and belly, which stay as they are); where another part of the outline lies in the way
/// (the far lip of a notch), up to that part's end. 0 gives the outline itself. Throws std::invalid_argument
/// for a negative distance, EndError when there is no such end.
Outline drawn_out(const Outline& outline, End end, double by_mm);

/// The outline with runs of nodes nearer than `apart_mm` to the run's first node made that one node; the
/// outline itself where that would spoil it.
Outline with_nodes_merged(const Outline& outline, double apart_mm);

/// Points along the outline, first not repeated, such that no chord leaves its arc by more than
/// `tolerance_mm` (> 0, else std::invalid_argument) nor spans more than a quarter turn of it.
std::vector<Vec2> polyline(const Outline& outline, double tolerance_mm);

/// Lines and arcs through a dense closed polyline (a traced scan, a sampled spline).
struct ArcFit {
  std::vector<Node> chain;
  /// Of any given point from the fitted chain; fit_open_arcs: and of the chain from the given polyline.
  double largest_deviation_mm = 0;
};
/// Greedy longest-run fit through some of the given points: no given point is farther than `tolerance_mm`
/// from the chain, and between them the chain leaves the polyline by no more than about twice that. With the
/// number of edges so found, the tolerance is tightened as far as it goes. The chain turns the way the
/// points do; it is not checked (find_fault tells). Throws std::invalid_argument for fewer than 3 different
/// points, values that are not finite or tolerance <= 0.
ArcFit fit_arcs(std::span<const Vec2> closed_polyline, double tolerance_mm);
/// The same for a curve with two ends, from its first point to its last, which may be one place. The chain
/// ends with a node at the last point, whose bulge means nothing. Throws std::invalid_argument for fewer than
/// 2 different points, values that are not finite or tolerance <= 0.
ArcFit fit_open_arcs(std::span<const Vec2> open_polyline, double tolerance_mm);

}  // namespace haftwright
