#include "report.hpp"

#include <cmath>

#include "haftwright/design/holes.hpp"

namespace haftwright::checks {

void Report::add(Finding finding) const {
  // A whole number is enough or it is not: one pin of one is not nearly too few.
  const double near_share = finding.unit == FigureUnit::count ? 0 : design.rules.near_share;
  finding.status = judge(finding.value, finding.limit, finding.sense, near_share);
  findings.push_back(std::move(finding));
}

Spot pin_spot(std::size_t pin, Which side) {
  return {.thing = Thing::pin, .index = pin, .sides = sides_of(side)};
}

Spot pin_in_tang(std::size_t pin) {
  return {.thing = Thing::pin, .index = pin, .layer = Layer::tang};
}

Spot piece_spot(const Part& piece) {
  return {.thing = Thing::piece, .index = piece.index, .sides = sides_of(piece.side)};
}

Toward toward(Vec2 here, Vec2 there) {
  const Vec2 way = there - here;
  if (std::abs(way.x) > std::abs(way.y)) return way.x < 0 ? Toward::front : Toward::butt;
  return way.y < 0 ? Toward::belly : Toward::spine;
}

void set_level(Spot& spot, double s_mm, double height_mm) {
  spot.level = s_mm <= 0 ? Level::inner_face : s_mm >= height_mm ? Level::finished_surface : Level::between;
  if (spot.level == Level::between) spot.mm = s_mm;
}

Vec3 on_side(const Handle& handle, Which side, Vec2 p, double s_mm) {
  const double out = handle.tang_thickness_mm(p.x) / 2 + handle.side(side).liner_total_mm + s_mm;
  return {p, side == Which::left ? out : -out};
}

PlanHole scale_hole(const Pin& pin) {
  return {pin.at_mm, pin.scale_hole.actual_mm()};
}

Vec2 rim_toward(const PlanHole& hole, Vec2 there) {
  const Vec2 way = there - hole.at;
  const double distance = glm::length(way);
  return distance > 0 ? hole.at + way * (hole.diameter_mm / 2 / distance) : hole.at;
}

PlanHole hole_in_tang(const Design& design, const Pin& pin) {
  const TangHole* there = existing_tang_hole(design, pin);
  return {there ? there->at_mm : pin.at_mm, tang_hole(design, pin).actual_mm()};
}

}  // namespace haftwright::checks
