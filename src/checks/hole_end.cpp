// Hole to the ends of the scale: the front face through its whole thickness, the butt in plan.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/geometry/outline_ops.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

constexpr const char* kWhy =
    "Wood splits along the grain from the hole to the end of the scale. Move the pin away from the end or "
    "use a thinner one.";

void check_front(const Report& report, std::size_t pin, const PlanHole& hole, const SideLayout& side) {
  const double height = side.scale_height_mm(hole.at);
  const double square = std::hypot(1.0, side.front.tan_slant);
  const double inner = side.front.behind_mm(hole.at.x, hole.at.y, 0) / square;
  const double outer = side.front.behind_mm(hole.at.x, hole.at.y, height) / square;
  const double s = outer < inner ? height : 0;  // linear in between
  const double distance = std::min(inner, outer);
  const Vec2 ahead = Vec2{-1, side.front.tan_slant} / square;  // square to the front face's line, in plan
  Spot at = pin_spot(pin, side.which);
  set_level(at, s, height);
  report.add({.id = "hole.end",
              .where = {at, Spot{.thing = Thing::front_face}},
              .place = on_side(report.handle, side.which, hole.at, s),
              .to = on_side(report.handle, side.which, hole.at + ahead * distance, s),
              .value = distance,
              .limit = report.design.rules.end_centre_diameters * hole.diameter_mm,
              .why = kWhy,
              .basis = basis_words(&ShopRules::end_centre_diameters)});
}

/// Whether the end grain lies open at a place of the edge: it faces the butt rather than spine or belly.
bool faces_butt(Vec2 outward) {
  return outward.x >= std::numbers::sqrt2 / 2 - 1e-12;
}

/// Places of an edge of the outline at which it may come nearest to a point, or begins to face the butt.
std::vector<Vec2> candidates(const Edge& edge, Vec2 at) {
  std::vector<Vec2> places{edge.from, edge.to};
  if (!edge.is_arc()) {
    const Vec2 way = edge.to - edge.from;
    const double t = glm::dot(at - edge.from, way) / glm::dot(way, way);
    if (t > 0 && t < 1) places.push_back(edge.from + t * way);
    return places;
  }
  const double half = std::numbers::sqrt2 / 2;
  for (const Vec2 spoke : {at - edge.centre, edge.centre - at, Vec2{half, half}, Vec2{half, -half},
                           Vec2{-half, half}, Vec2{-half, -half}}) {
    const double length = glm::length(spoke);
    if (length == 0) continue;
    const Vec2 place = edge.centre + spoke * (edge.radius / length);
    const Vec2 start = edge.from - edge.centre;
    double turn = std::atan2(cross(start, spoke), glm::dot(start, spoke));
    if (edge.sweep < 0) turn = -turn;
    if (turn < 0) turn += 2 * std::numbers::pi;
    if (turn <= std::abs(edge.sweep)) places.push_back(place);
  }
  return places;
}

Vec2 outward_at(const Edge& edge, Vec2 place) {
  if (!edge.is_arc()) return -turned_left(glm::normalize(edge.to - edge.from));
  return (place - edge.centre) * (edge.sweep > 0 ? 1 / edge.radius : -1 / edge.radius);
}

/// Where the wood ends toward the butt, nearest to the hole's centre: square to a butt that is slanted or
/// round, and never farther than straight along the handle.
Vec2 butt_end(const Outline& finished, Vec2 at) {
  Vec2 nearest = finished.nearest(at).point;
  double least = HUGE_VAL;
  const auto offer = [&](Vec2 place) {
    if (const double distance = glm::distance(place, at); distance < least) least = distance, nearest = place;
  };
  for (const Crossing& crossing : crossings(finished, at, {1, 0}))
    if (crossing.along_mm > 0) offer(crossing.point);
  for (const Edge& edge : finished.edges())
    for (const Vec2 place : candidates(edge, at))
      if (faces_butt(outward_at(edge, place))) offer(place);
  return nearest;
}

}  // namespace

void check_hole_end(const Report& report) {
  for (std::size_t i = 0; i < report.design.pins.size(); ++i) {
    const PlanHole hole = scale_hole(report.design.pins[i]);
    for (const Which which : kBothSides) {
      const SideLayout& side = report.handle.side(which);
      check_front(report, i, hole, side);
      const Vec2 end = butt_end(side.finished, hole.at);
      const double distance = glm::distance(end, hole.at);
      report.add({.id = "hole.end",
                  .where = {pin_spot(i, which), Spot{.thing = Thing::butt}},
                  .place = on_side(report.handle, which, end, 0),
                  .to = on_side(report.handle, which, hole.at, 0),
                  .value = side.finished.contains(hole.at) ? distance : -distance,
                  .limit = report.design.rules.end_centre_diameters * hole.diameter_mm,
                  .why = kWhy,
                  .basis = basis_words(&ShopRules::end_centre_diameters)});
    }
  }
}

}  // namespace haftwright::checks
