// Hole to the round-over, on all sides.
#include "haftwright/handle/measures.hpp"
#include "kinds.hpp"

namespace haftwright::checks {

void check_hole_land(const Report& report) {
  const Handle& handle = report.handle;
  std::vector<Vec2> places;
  for (const Pin& pin : report.design.pins) places.push_back(pin.at_mm);
  const std::vector<RoundOverStart> left = nearest_round_overs(handle.left, places);
  const std::vector<RoundOverStart> right =
      handle.mirrored ? left : nearest_round_overs(handle.right, places);
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const PlanHole hole = scale_hole(report.design.pins[i]);
    for (const Which which : kBothSides) {
      const SideLayout& side = handle.side(which);
      const RoundOverStart& land = (which == Which::left ? left : right)[i];
      const double height = side.scale_height_mm(hole.at);
      const Vec2 way = land.distance_mm < 0 ? hole.at - land.at : land.at - hole.at;
      const double length = glm::length(way);
      const Vec2 outward = length > 0 ? way / length : Vec2{0, 0};
      Spot at = pin_spot(i, which);
      at.toward = toward(hole.at, land.wall);
      report.add({.id = "hole.land",
                  .where = {at},
                  .place = on_side(handle, which, hole.at + outward * (hole.diameter_mm / 2), height),
                  .to = on_side(handle, which, land.at, height),
                  .value = land.distance_mm - hole.diameter_mm / 2,
                  .limit = report.design.rules.surface_land_mm,
                  .why =
                      "A pin that comes out in the round-over shows as an oval and its rim is easily sanded "
                      "through. Move the pin inward or round the edge over less.",
                  .basis = basis_words(&ShopRules::surface_land_mm)});
    }
  }
}

}  // namespace haftwright::checks
