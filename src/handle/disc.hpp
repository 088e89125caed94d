// Round holes in plan: what they take out of faces and out of parts.
#pragma once

#include <span>
#include <vector>

#include "scale_body.hpp"

namespace haftwright::layout {

struct Disc {
  Vec2 centre{0, 0};
  double radius_mm = 0;
  double area_mm2() const;
};

/// Area and its first moment about x = 0.
struct Taken {
  double area_mm2 = 0;
  double x_moment_mm3 = 0;
};

/// What the discs take out of a face that may have openings (within its outlines) already. Exact where a disc
/// lies wholly in the face and clear of openings and other discs; else by rows across the disc, to about a
/// thousandth of it. Nothing is counted twice.
Taken taken_by(std::vector<Disc> discs, const std::vector<Outline>& face,
               const std::vector<Outline>& openings);

/// The part of a scale between two planes; without `rear` to the butt.
struct Slice {
  CutPlane front;
  CutPlane rear;
  bool to_butt = false;

  /// Length of the column over p, from s = 0 to `top`, that lies in the slice.
  double column_mm(Vec2 p, double top) const;
};

/// Volume that a hole along z takes out of each slice, in their order. Twelve columns (exact for a surface
/// that is a polynomial of the third degree over the hole) where the hole is clear of planes, edge and
/// round-over; else 384, to about a thousandth of the hole.
std::vector<double> drilled_mm3(const ScaleBody& body, const Disc& hole, std::span<const Slice> slices);

/// Area in (y, s) that a hole along z takes out of a plane's face: the chord's width over the height the
/// surface has above the middle of the chord. 0 when the hole is clear of the plane.
double drilled_face_mm2(const ScaleBody& body, const CutPlane& plane, const Disc& hole);

}  // namespace haftwright::layout
