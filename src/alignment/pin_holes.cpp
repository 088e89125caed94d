#include "pin_holes.hpp"

#include <algorithm>

namespace haftwright::alignment {

const HoleSize& tighter_hole(const Handle& handle, const Pin& pin, Which side) {
  const bool lined = handle.side(side).liner_total_mm > 0;
  return lined && pin.liner_hole.actual_mm() < pin.scale_hole.actual_mm() ? pin.liner_hole : pin.scale_hole;
}

double drill_mm(const Pin& pin) {
  if (const auto drill = find_drill(pin.scale_hole.drill)) return drill->diameter_mm;
  return pin.scale_hole.actual_mm();
}

HoleSize tang_hole(const Design& design, const Pin& pin) {
  if (pin.existing_tang_hole.empty()) return pin.tang_hole;
  return {.diameter_mm =
              std::ranges::find(design.tang.holes, pin.existing_tang_hole, &TangHole::name)->diameter_mm};
}

}  // namespace haftwright::alignment
