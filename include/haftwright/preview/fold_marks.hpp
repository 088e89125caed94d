// What is drawn over the fold view: distances, clear zones, lines that a pin has settled on.
#pragma once

#include <string>
#include <vector>

#include "haftwright/checks/finding.hpp"
#include "haftwright/preview/fold.hpp"
#include "haftwright/preview/fold_places.hpp"

namespace haftwright {

/// Round each hole in a scale the wall that it has to keep, as wide as its own finding asks, in the role of
/// the finding's status.
Drawing draw_clear_zones(const Design& design, const FoldMap& map, const std::vector<Finding>& findings);

/// A measured stretch, dimensioned where it shows. From side to side only the step along the handle was
/// measured: it is drawn on the tang's middle, with a line from either end to it.
Dimension stretch_dimension(const FoldMap& map, const FoldStretch& stretch);

/// Distances along the handle from a pin to those ahead of it and behind it, on one face. Empty for a pin
/// that is not there.
Drawing draw_neighbours(const Design& design, const FoldMap& map, std::size_t pin, Which face);

/// Lines across the drawing at an even spacing, and along both faces at another pin's level, where the pin is
/// at one to rounding; somewhat past `handle`, its bounds in the drawing. Empty for a pin that is not there.
Drawing draw_settled(const Design& design, const FoldMap& map, const Bounds& handle, std::size_t pin);

}  // namespace haftwright
