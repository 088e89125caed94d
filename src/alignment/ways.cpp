#include <algorithm>
#include <stdexcept>
#include <vector>

#include "drilling_method.hpp"
#include "haftwright/reference/drills.hpp"
#include "pin_holes.hpp"

namespace haftwright {

using namespace alignment;
namespace {

/// All of them, in the order of DrillWay.
constexpr const DrillingMethod* kMethods[] = {&kByEye, &kToFirst, &kTaped, &kGuide, &kGuidePinned};

constexpr std::string_view kSharings[] = {"each side its own", "once, between the sides",
                                          "the same for both sides"};

/// The tang's hole as a drill finds it: one that was drilled lets pass what drilled it, whatever it measures.
double passes_mm(const HoleSize& hole) {
  const auto drill = find_drill(hole.drill);
  return drill ? std::max(drill->diameter_mm, hole.actual_mm()) : hole.actual_mm();
}

}  // namespace

const DrillingMethod& alignment::drilling_method(DrillWay way) {
  for (const DrillingMethod* method : kMethods)
    if (method->row.way == way) return *method;
  throw std::logic_error("a way of drilling is not in the table");
}

std::span<const WayRow> way_rows() {
  static const std::vector<WayRow> rows = [] {
    std::vector<WayRow> all;
    for (const DrillingMethod* method : kMethods) all.push_back(method->row);
    return all;
  }();
  return rows;
}

const WayRow& way_row(DrillWay way) {
  return drilling_method(way).row;
}

std::string way_problem(const Design& design, DrillWay way) {
  return drilling_method(way).problem(design);
}

std::string alignment::no_problem(const Design&) {
  return {};
}

void alignment::tang_as_it_guided(HoleDriller&, std::size_t, Axis&) {}

std::string alignment::drill_passes_tang(const Design& design) {
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Pin& pin = design.pins[i];
    const double drill = drill_mm(pin);
    const double hole = passes_mm(tang_hole(design, pin));
    // As well as the hole is known.
    if (drill <= hole + design.drilling.errors.hole_size_mm) continue;
    return "the scales' drill of " + format_length(drill, design.shown_unit) + " for the " +
           pin_name(design, i) + " does not pass the tang's hole of " +
           format_length(hole, design.shown_unit) +
           ": open the tang's hole, or use a drill and a pin that pass it";
  }
  return {};
}

std::string_view words_of(Sharing sharing) {
  return kSharings[static_cast<std::size_t>(sharing)];
}

std::string words_of(const ContributorInfo& info, LengthUnit unit) {
  // Errors are too small for fractions of an inch.
  const LengthUnit shown = unit == LengthUnit::inch_fraction ? LengthUnit::inch : unit;
  const std::string size =
      info.unit == "deg" ? format_number(info.size, 2) + " deg" : format_length(info.size, shown);
  return (info.shape == DistributionShape::normal ? "within " : "up to ") + size + ", " +
         std::string(words_of(info.sharing));
}

}  // namespace haftwright
