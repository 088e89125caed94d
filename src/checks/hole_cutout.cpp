// Hole to what is cut out of the tang already.
#include <cmath>

#include "haftwright/design/ids.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

struct Opening {
  double gap_mm =
      HUGE_VAL;  ///< steel between the rim and the opening; negative when they run into each other
  Vec2 at{0, 0};
  std::optional<Spot> what;
};

Opening nearest_opening(const Report& report, const Pin& pin, const PlanHole& hole) {
  Opening nearest;
  const double radius = hole.diameter_mm / 2;
  const auto offer = [&](double gap_mm, Vec2 at, const Spot& what) {
    if (gap_mm < nearest.gap_mm) nearest = {gap_mm, at, what};
  };
  for (std::size_t k = 0; k < report.handle.cutouts.size(); ++k) {
    const Outline& cutout = report.handle.cutouts[k];
    offer(-cutout.depth_mm(hole.at) - radius, cutout.nearest(hole.at).point,
          {.thing = Thing::cutout, .index = k});
  }
  const std::vector<TangHole>& others = report.design.tang.holes;
  const std::size_t own = index_of(others, pin.existing_tang_hole);
  for (std::size_t k = 0; k < others.size(); ++k)
    if (k != own)
      offer(glm::distance(hole.at, others[k].at_mm) - others[k].diameter_mm / 2 - radius,
            rim_toward({others[k].at_mm, others[k].diameter_mm}, hole.at),
            {.thing = Thing::tang_hole, .index = k});
  return nearest;
}

}  // namespace

void check_hole_cutout(const Report& report) {
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const Pin& pin = report.design.pins[i];
    const PlanHole hole = hole_in_tang(report.design, pin);
    const Opening opening = nearest_opening(report, pin, hole);
    if (!opening.what) continue;  // nothing else is cut out of this tang
    report.add(
        {.id = "hole.cutout",
         .where = {pin_in_tang(i), opening.what},
         .place = Vec3{opening.at, 0},
         .to = Vec3{rim_toward(hole, opening.at), 0},
         .value = opening.gap_mm,
         .limit = report.design.rules.tang_wall_diameters * hole.diameter_mm,
         .why =
             "A narrow bridge of steel cracks in hardening, and a drill that touches another opening breaks "
             "through into it. Move the pin, or use the hole that is there.",
         .basis = basis_words(&ShopRules::tang_wall_diameters)});
  }
}

}  // namespace haftwright::checks
