// How a drill guide is used at the bench: steps in order, with the figures that they need.
#pragma once

#include <string>
#include <vector>

#include "haftwright/guide/drill_guide.hpp"

namespace haftwright {

struct WorkStep {
  std::string words;     ///< whole sentences; lengths in the unit that the project shows
  bool caution = false;  ///< about what can hurt someone; the others are numbered
};

/// Cautions first, then what to do to the blanks, the scales, the tang and the liners, in the order in which
/// it has to be done.
std::vector<WorkStep> order_of_work(const Design& design, const Handle& handle, const DrillGuide& guide);

/// The steps as numbered lines, cautions marked as such; each ends with a line break.
std::string order_of_work_text(const std::vector<WorkStep>& steps);

/// "157.00 mm x 54.00 mm x 12.00 mm", or the thickness of both ends where it is a wedge.
std::string plate_words(const DrillGuide& guide, LengthUnit unit);

/// Packing under the tang that keeps the fences off the table; 0 where none is needed.
double tang_packing_mm(const Handle& handle, const DrillGuide& guide);

/// What goes between the plate and the tang at the tang's thin end, so that both stand square to the bores: a
/// strip this thick, at this x. 0 mm for a tang without taper.
struct TangStrip {
  double thickness_mm = 0;
  double at_x_mm = 0;
};
TangStrip tang_strip(const Handle& handle, const DrillGuide& guide);

}  // namespace haftwright
