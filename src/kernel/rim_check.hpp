// Whether the round-over that the kernel made is the one that was laid out.
#pragma once

#include <TopoDS_Shape.hxx>

#include "envelope.hpp"
#include "haftwright/geometry/vec.hpp"

namespace haftwright::kernel {

/// Where a solid's upper side is farthest off the height field.
struct RimDeviation {
  double too_high_mm = 0;  ///< along z; negative: too low
  Vec2 at{0, 0};
};

/// Over a grid of places on each face of `solid`, behind the front end and 0.05 mm or more within the edge.
/// Places that no face covers go unseen.
RimDeviation rim_deviation(const TopoDS_Shape& solid, const EnvelopeShape& shape);

/// What is let pass without a word.
inline constexpr double kRimDeviation_mm = 0.05;

}  // namespace haftwright::kernel
