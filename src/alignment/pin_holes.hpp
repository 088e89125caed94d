// Which of a pin's holes counts, and what it was drilled with.
#pragma once

#include "haftwright/design/holes.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright::alignment {

/// The tighter of a scale's hole and its liners', which are one body.
const HoleSize& tighter_hole(const Handle& handle, const Pin& pin, Which side);

/// The drill as it is: the listed size, or for a typed hole that hole.
double drill_mm(const Pin& pin);

}  // namespace haftwright::alignment
