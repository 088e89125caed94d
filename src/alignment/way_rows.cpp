#include <algorithm>
#include <stdexcept>

#include "haftwright/alignment/ways.hpp"
#include "haftwright/reference/drills.hpp"
#include "pin_holes.hpp"

namespace haftwright {
namespace {

constexpr WayRow kRows[] = {
    {DrillWay::by_eye, "by_eye",
     "Each scale is clamped to the tang by eye and drilled through the tang's holes.",
     "where the tang's holes are"},
    {DrillWay::to_first, "to_first",
     "The first scale is drilled through the tang and pinned on; the second is lined up with it over the "
     "spine and drilled through it.",
     "where the tang's holes are, how the first scale sits, and how its holes lean"},
    {DrillWay::taped, "taped",
     "The scales are taped inner face to inner face, line to line, and drilled in one go.",
     "where the holes are"},
    {DrillWay::guide, "guide",
     "Each scale sits on the guide's fences with its joint lines at the sight windows and is drilled through "
     "the same bores.",
     "where the guide's bores, fences and windows are, and how its bores lean"},
    {DrillWay::guide_pinned, "guide_pinned",
     "Drilled through the guide; the pins are fixed in the tang while both scales hold them, and each scale "
     "is "
     "then glued onto them.",
     "where the guide's bores, fences and windows are, and where the pins stand in the tang"},
};

constexpr std::string_view kSharings[] = {"each side its own", "once, between the sides",
                                          "the same for both sides"};

/// The tang's hole as a drill finds it: one that was drilled lets pass what drilled it, whatever it measures.
double passes_mm(const HoleSize& hole) {
  const auto drill = find_drill(hole.drill);
  return drill ? std::max(drill->diameter_mm, hole.actual_mm()) : hole.actual_mm();
}

}  // namespace

std::span<const WayRow> way_rows() {
  return kRows;
}

std::string way_problem(const Design& design, DrillWay way) {
  if (way != DrillWay::by_eye && way != DrillWay::to_first) return {};
  for (const Pin& pin : design.pins) {
    const double drill = alignment::drill_mm(pin);
    const double hole = passes_mm(alignment::tang_hole(design, pin));
    // As well as the hole is known.
    if (drill <= hole + design.drilling.errors.hole_size_mm) continue;
    return "the scales' drill of " + format_length(drill, design.shown_unit) + " for the " + pin.name +
           " does not pass the tang's hole of " + format_length(hole, design.shown_unit) +
           ": open the tang's hole, or use a drill and a pin that pass it";
  }
  return {};
}

std::string_view words_of(Sharing sharing) {
  return kSharings[static_cast<std::size_t>(sharing)];
}

std::string words_of(const SourceInfo& info, LengthUnit unit) {
  // Errors are too small for fractions of an inch.
  const LengthUnit shown = unit == LengthUnit::inch_fraction ? LengthUnit::inch : unit;
  const std::string size =
      info.unit == "deg" ? format_number(info.size, 2) + " deg" : format_length(info.size, shown);
  return (info.spread == Spread::normal ? "within " : "up to ") + size + ", " +
         std::string(words_of(info.sharing));
}

const WayRow& way_row(DrillWay way) {
  for (const WayRow& row : kRows)
    if (row.way == way) return row;
  throw std::logic_error("a way of drilling has no row in the table");
}

}  // namespace haftwright
