// One side from its numbers.
#pragma once

#include "side_input.hpp"

namespace haftwright::layout {

SideLayout lay_out_side(const SideInput& input);

/// The same side on the other face of the tang.
SideLayout mirrored_side(const SideLayout& side);

}  // namespace haftwright::layout
