#include "haftwright/design/holes.hpp"

#include <algorithm>

#include "haftwright/design/ids.hpp"
#include "haftwright/design/units.hpp"

namespace haftwright {

HoleRange hole_range(const HoleSize& hole) {
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

double smallest_hole_mm(const HoleSize& hole) {
  const HoleRange range = hole_range(hole);
  return range.measured ? range.middle_mm : std::min(hole.actual_mm(), range.middle_mm - range.half_mm);
}

bool is_given(const HoleSize& hole) {
  return hole.diameter_mm || !hole.drill.empty();
}

const TangHole* existing_tang_hole(const Design& design, const Pin& pin) {
  const std::size_t hole = index_of(design.tang.holes, pin.existing_tang_hole);
  return hole < design.tang.holes.size() ? &design.tang.holes[hole] : nullptr;
}

HoleSize tang_hole(const Design& design, const Pin& pin) {
  const TangHole* there = existing_tang_hole(design, pin);
  return there ? HoleSize{.diameter_mm = there->diameter_mm} : pin.tang_hole;
}

double widest_hole_mm(const Pin& pin) {
  double widest = pin.stock.diameter_mm();
  for (const HoleSize* hole : {&pin.scale_hole, &pin.liner_hole, &pin.tang_hole})
    if (is_given(*hole)) widest = std::max(widest, hole->actual_mm());
  return widest;
}

double widest_scale_hole_mm(const Pin& pin) {
  double widest = hole_range(pin.scale_hole).middle_mm;
  if (is_given(pin.liner_hole)) widest = std::max(widest, hole_range(pin.liner_hole).middle_mm);
  return widest;
}

std::optional<ListedDrill> smallest_drill_for(const Design& design, double least_mm, double most_mm,
                                              bool reamers) {
  return smallest_drill_between(least_mm, most_mm, reamers, design.shown_unit == LengthUnit::millimetre);
}

std::string drill_words(const ListedDrill& drill, LengthUnit shown) {
  const bool metric = shown == LengthUnit::millimetre;
  if (metric && drill.series == DrillSeries::metric) return drill_words(drill);
  // Drills are far nearer to each other than a 64th of an inch.
  return drill_words(drill) + " (" +
         format_length(drill.diameter_mm, metric ? LengthUnit::millimetre : LengthUnit::inch) + ")";
}

}  // namespace haftwright
