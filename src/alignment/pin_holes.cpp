#include "pin_holes.hpp"

namespace haftwright::alignment {

const HoleSize& tighter_hole(const Handle& handle, const Pin& pin, Which side) {
  const bool lined = handle.side(side).liner_total_mm > 0;
  return lined && pin.liner_hole.actual_mm() < pin.scale_hole.actual_mm() ? pin.liner_hole : pin.scale_hole;
}

double drill_mm(const Pin& pin) {
  if (const auto drill = find_drill(pin.scale_hole.drill)) return drill->diameter_mm;
  return pin.scale_hole.actual_mm();
}

}  // namespace haftwright::alignment
