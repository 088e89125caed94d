// Hole to the ends of the scale: the front face through its whole thickness, the butt along the handle.
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

constexpr const char* kWhy =
    "Wood splits along the grain from the hole to the end of the scale. Move the pin away from the end or "
    "use a "
    "thinner one.";

void check_front(const Report& report, std::size_t pin, const PlanHole& hole, const SideLayout& side) {
  const double height = side.scale_height_mm(hole.at);
  const double square = std::hypot(1.0, side.front.tan_slant);
  const double inner = side.front.behind_mm(hole.at.x, hole.at.y, 0) / square;
  const double outer = side.front.behind_mm(hole.at.x, hole.at.y, height) / square;
  const double s = outer < inner ? height : 0;  // linear in between
  const double distance = std::min(inner, outer);
  const Vec2 ahead = Vec2{-1, side.front.tan_slant} / square;  // square to the front face's line, in plan
  report.add({.id = "hole.end",
              .where = pin_words(report.design, pin) + ", " + side_words(side.which) +
                       ", to the front face, " + depth_words(s, height, report.design.shown_unit),
              .place = on_side(report.handle, side.which, hole.at, s),
              .to = on_side(report.handle, side.which, hole.at + ahead * distance, s),
              .pin = pin,
              .value = distance,
              .limit = report.design.rules.end_centre_diameters * hole.diameter_mm,
              .why = kWhy,
              .basis = basis_words(&ShopRules::end_centre_diameters)});
}

/// From the hole's centre along the handle to where the wood ends; negative when the centre is outside.
double butt_distance_mm(const Outline& finished, Vec2 at) {
  if (finished.contains(at))
    for (const Crossing& crossing : crossings(finished, at, {1, 0}))
      if (crossing.along_mm > 0) return crossing.along_mm;
  return finished.depth_mm(at);
}

}  // namespace

void check_hole_end(const Report& report) {
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const PlanHole hole = scale_hole(report.design.pins[i]);
    for (const Which which : kBothSides) {
      const SideLayout& side = report.handle.side(which);
      check_front(report, i, hole, side);
      const double distance = butt_distance_mm(side.finished, hole.at);
      report.add({.id = "hole.end",
                  .where = pin_words(report.design, i) + ", " + side_words(which) + ", to the butt",
                  .place = on_side(report.handle, which, hole.at + Vec2{distance, 0}, 0),
                  .to = on_side(report.handle, which, hole.at, 0),
                  .pin = i,
                  .value = distance,
                  .limit = report.design.rules.end_centre_diameters * hole.diameter_mm,
                  .why = kWhy,
                  .basis = basis_words(&ShopRules::end_centre_diameters)});
    }
  }
}

}  // namespace haftwright::checks
