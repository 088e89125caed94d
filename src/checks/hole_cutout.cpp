// Hole to what is cut out of the tang already.
#include <cmath>

#include "kinds.hpp"

namespace haftwright::checks {
namespace {

struct Opening {
  double gap_mm =
      HUGE_VAL;  ///< steel between the rim and the opening; negative when they run into each other
  Vec2 at{0, 0};
  std::string name;
};

Opening nearest_opening(const Report& report, const Pin& pin, const PlanHole& hole) {
  Opening nearest;
  const double radius = hole.diameter_mm / 2;
  const auto offer = [&](double gap_mm, Vec2 at, const std::string& name) {
    if (gap_mm < nearest.gap_mm) nearest = {gap_mm, at, name};
  };
  for (std::size_t k = 0; k < report.handle.cutouts.size(); ++k) {
    const Outline& cutout = report.handle.cutouts[k];
    offer(-cutout.depth_mm(hole.at) - radius, cutout.nearest(hole.at).point,
          "cutout " + std::to_string(k + 1));
  }
  for (const TangHole& other : report.design.tang.holes)
    if (other.name != pin.existing_tang_hole)
      offer(glm::distance(hole.at, other.at_mm) - other.diameter_mm / 2 - radius,
            rim_toward({other.at_mm, other.diameter_mm}, hole.at), "tang hole \"" + other.name + "\"");
  return nearest;
}

}  // namespace

void check_hole_cutout(const Report& report) {
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const Pin& pin = report.design.pins[i];
    const PlanHole hole = tang_hole(report.design, pin);
    const Opening opening = nearest_opening(report, pin, hole);
    if (opening.name.empty()) continue;  // nothing else is cut out of this tang
    report.add(
        {.id = "hole.cutout",
         .where = pin_words(report.design, i) + ", tang, to " + opening.name,
         .place = Vec3{opening.at, 0},
         .to = Vec3{rim_toward(hole, opening.at), 0},
         .pin = i,
         .value = opening.gap_mm,
         .limit = report.design.rules.tang_wall_diameters * hole.diameter_mm,
         .why =
             "A narrow bridge of steel cracks in hardening, and a drill that touches another opening breaks "
             "through into it. Move the pin, or use the hole that is there.",
         .basis = basis_words(&ShopRules::tang_wall_diameters)});
  }
}

}  // namespace haftwright::checks
