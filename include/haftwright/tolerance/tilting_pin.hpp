// How far one body goes against another while a straight pin, free to tilt, passes the holes of both.
//
// A hole holds a pin at its two rims. A line that passes both rims of one hole, with room r at the inner and
// r' at the outer one, can leave that hole's axis by (1 + k) r + k r' at a distance k times the hole's length
// beyond the inner rim. There it must still pass a rim of the other body's hole. So each rim of one hole
// bounds the motion by a disc, about where the other hole points; for upright holes of length h with room r,
// a tang t apart, of radius 2 r (1 + t/h). A third hole between the two bounds the slope of the pin itself.
// All these bounds hold for every pin that passes, so what they leave is never too little.
#pragma once

#include <vector>

#include "haftwright/tolerance/stack.hpp"

namespace haftwright {

struct Rim {
  double z_mm = 0;
  double room_mm = 0;  ///< half of what the hole is wider than the pin, nominal
  Sensitivities room;
  Sensitivities x;  ///< how far the rim's middle is off its place
  Sensitivities y;
};

/// One body's hole for a pin. Scales: the inner rim is the one toward the tang.
struct RimmedHole {
  Rim inner;
  Rim outer;
  double length_mm() const;
};

/// The bounds on how far the body of `hole` goes against the body of `other`. `between`, if any, is the
/// tang's hole between two scales, in a body of its own that goes wherever the pins let it.
std::vector<PinBound> tilting_pin(Vec2 at_mm, const RimmedHole& hole, const RimmedHole& other,
                                  const RimmedHole* between);

/// The bounds on how far the body of `hole` goes on a pin that was fixed while it stood midway between `hole`
/// and `other`, in place and in slope.
std::vector<PinBound> fixed_pin(Vec2 at_mm, const RimmedHole& hole, const RimmedHole& other);

/// A hole's rooms, which no motion changes.
std::vector<PinRoom> rooms_of(const RimmedHole& hole);

}  // namespace haftwright
