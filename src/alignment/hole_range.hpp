// What a hole measures, and what it was drilled with.
#pragma once

#include "haftwright/handle/handle.hpp"

namespace haftwright::alignment {

struct HoleRange {
  double middle_mm = 0;  ///< diameter
  double half_mm = 0;    ///< the range reaches this far to both sides; 0 where it was measured
  bool measured = true;  ///< else a published range, which is not centred on the drill's size
};
/// Typed or measured, or where in the published range of a drilled one it lies.
HoleRange range_of(const HoleSize& hole);

/// The least that a hole may measure: an unmeasured one is no larger than its drill, for the published range
/// is of holes in metal, and wood closes up behind the drill (common practice).
double smallest_mm(const HoleSize& hole);

/// The tighter of a scale's hole and its liners', which are one body.
const HoleSize& tighter_hole(const Handle& handle, const Pin& pin, Which side);

/// The drill as it is: the listed size, or for a typed hole that hole.
double drill_mm(const Pin& pin);

/// The tang's hole for a pin; one that the tang has already was measured.
HoleSize tang_hole(const Design& design, const Pin& pin);

}  // namespace haftwright::alignment
