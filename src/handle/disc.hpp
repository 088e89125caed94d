// Round holes in plan: what they take out of faces and out of parts.
#pragma once

#include <span>
#include <vector>

#include "disc_bands.hpp"
#include "scale_body.hpp"

namespace haftwright::layout {

/// Area and its first moment about x = 0.
struct Taken {
  double area_mm2 = 0;
  double x_moment_mm3 = 0;
};

/// What the discs take out of a face that may have openings (within its outlines) already. Exact; where discs
/// overlap each other or an opening nothing is counted twice.
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

/// Volume that holes along z take out of each slice, in their order; where holes overlap, once. Twelve
/// columns a hole (exact for a surface that is a polynomial of the third degree over it) where it is clear of
/// planes, edge, round-over and other holes; else rows of columns, to about 1e-5 of the hole.
std::vector<double> drilled_mm3(const ScaleBody& body, std::vector<Disc> holes,
                                std::span<const Slice> slices);

/// Area in (y, s) that holes along z take out of a plane's face, up to the finished surface; where holes
/// overlap, once. To about 1e-5 of it.
double drilled_face_mm2(const ScaleBody& body, const CutPlane& plane, std::vector<Disc> holes);

}  // namespace haftwright::layout
