// A tang to start from with the measures that make it, blade to the left.
#pragma once

#include "haftwright/design/starters.hpp"
#include "haftwright/drawing/drawing.hpp"

namespace haftwright {

/// Outline, front face and a dimension for each measure, in `unit`. Throw std::invalid_argument naming the
/// measurement that makes no shape (see starter_outline).
Drawing draw_starter(const StraightTang& tang, LengthUnit unit);
Drawing draw_starter(const BowedTang& tang, LengthUnit unit);

}  // namespace haftwright
