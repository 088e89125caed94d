#include "hole_range.hpp"

#include <algorithm>

#include "haftwright/reference/drills.hpp"

namespace haftwright::alignment {

HoleRange range_of(const HoleSize& hole) {
  const double diameter = hole.actual_mm();
  // A reamer cuts what it measures.
  const auto tool = find_drill(hole.drill);
  const bool reamed = tool && tool->series == DrillSeries::reamer;
  if (!hole.diameter_mm && !reamed)
    if (const auto range = drilled_hole_allowance(diameter))
      return {diameter + (range->lower_mm + range->upper_mm) / 2, (range->upper_mm - range->lower_mm) / 2,
              false};
  return {.middle_mm = diameter};
}

double smallest_mm(const HoleSize& hole) {
  const HoleRange range = range_of(hole);
  return range.measured ? range.middle_mm : std::min(hole.actual_mm(), range.middle_mm - range.half_mm);
}

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
