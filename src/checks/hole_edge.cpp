// Hole to the edges of wood and steel, in plan.
#include <algorithm>

#include "kinds.hpp"

namespace haftwright::checks {
namespace {

/// Which way the edge lies from a hole whose centre may be outside it.
Toward toward_edge(Vec2 at, const Nearest& nearest, double depth_mm) {
  if (nearest.distance_mm == 0) return Toward::nowhere;
  return depth_mm > 0 ? toward(at, nearest.point) : toward(nearest.point, at);
}

}  // namespace

void check_hole_edge(const Report& report) {
  const ShopRules& rules = report.design.rules;
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const PlanHole hole = scale_hole(report.design.pins[i]);
    const double by_diameter = rules.edge_wall_diameters * hole.diameter_mm;
    const bool least_rules = rules.edge_wall_mm > by_diameter;
    for (const Which which : kBothSides) {
      const Outline& outline = report.handle.side(which).finished;
      const Nearest nearest = outline.nearest(hole.at);
      const double depth = outline.depth_mm(hole.at);
      Spot at = pin_spot(i, which);
      at.toward = toward_edge(hole.at, nearest, depth);
      report.add(
          {.id = "hole.edge",
           .where = {at},
           .place = on_side(report.handle, which, nearest.point, 0),
           .to = on_side(report.handle, which, rim_toward(hole, nearest.point), 0),
           .value = depth - hole.diameter_mm / 2,
           .limit = std::max(by_diameter, rules.edge_wall_mm),
           .why = "A thin wall between the hole and the edge splits when the pin goes in or the wood moves. "
                  "Move the "
                  "pin inward or use a thinner one.",
           .basis = basis_words(least_rules ? &ShopRules::edge_wall_mm : &ShopRules::edge_wall_diameters)});
    }
  }
}

void check_hole_tang_edge(const Report& report) {
  const Outline& tang = report.handle.tang;
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const PlanHole hole = hole_in_tang(report.design, report.design.pins[i]);
    const Nearest nearest = tang.nearest(hole.at);
    const double depth = tang.depth_mm(hole.at);
    Spot at = pin_in_tang(i);
    at.toward = toward_edge(hole.at, nearest, depth);
    report.add(
        {.id = "hole.tang_edge",
         .where = {at},
         .place = Vec3{nearest.point, 0},
         .to = Vec3{rim_toward(hole, nearest.point), 0},
         .value = depth - hole.diameter_mm / 2,
         .limit = report.design.rules.tang_wall_diameters * hole.diameter_mm,
         .why =
             "Too little steel beside the hole cracks in hardening or bends in use. Move the hole inward or "
             "make it smaller.",
         .basis = basis_words(&ShopRules::tang_wall_diameters)});
  }
}

}  // namespace haftwright::checks
