#include "hole_errors.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "drilling_method.hpp"
#include "haftwright/reference/drills.hpp"
#include "pin_holes.hpp"

namespace haftwright::alignment {
namespace {

/// No hole is taken as shorter than this: what so short a hole says of a pin's slope is nothing.
constexpr double kShortestHoleMm = 0.1;

/// How far half the drill's room lets a hole's mouth be off.
Pair room_of(Variables& variables, const Guidance& guidance, Sharing sharing) {
  const auto own = [&] {
    return variables.even({"drill_room", "the drill's room in what guides it"}, guidance.clearance_mm / 2,
                          sharing);
  };
  const Sensitivity x = own();
  return {x, own()};
}

/// Lean for each mm of depth: at most the drill's room over the guide's length, and no more than that of a
/// drill that nothing guides.
Pair lean_of(Variables& variables, const Design& design, const Guidance& guidance, Sharing sharing) {
  const double free = std::tan(design.drilling.errors.drill_lean_deg * std::numbers::pi / 180);
  const double guided = guidance.length_mm > 0 ? guidance.clearance_mm / guidance.length_mm : free;
  const auto own = [&] {
    return variables.even_lean({"drill_lean_deg", "lean of the drill"}, std::min(free, guided), sharing);
  };
  const Sensitivity x = own();
  return {x, own()};
}

/// Half a hole's diameter with its spread. Unmeasured, a drilled hole lies in a published range that is not
/// centred on the drill's size.
struct Radius {
  double nominal_mm = 0;
  Sensitivity sensitivity;
};
Radius radius_of(Variables& variables, const HoleSize& hole) {
  const HoleRange range = hole_range(hole);
  if (range.measured)
    return {range.middle_mm / 2, times(variables.of(&ShopErrors::hole_size_mm, Sharing::each_side), 0.5)};
  return {range.middle_mm / 2,
          times(variables.even({"hole_allowance", "size of drilled holes that were not measured"},
                               range.half_mm, Sharing::each_side),
                0.5)};
}

void set_room(Rim& rim, const Radius& radius, const Pin& pin, Sensitivity pin_size) {
  rim.room_mm = radius.nominal_mm - pin.stock.diameter_mm() / 2;
  rim.room = {radius.sensitivity, times(pin_size, -0.5)};
}

void put(RimmedHole& hole, const Axis& axis) {
  for (Rim* rim : {&hole.inner, &hole.outer}) {
    Line off = axis.at(rim->z_mm);
    rim->x = std::move(off.x);
    rim->y = std::move(off.y);
  }
}

}  // namespace

PinHoles HoleDriller::holes(const DrillingMethod& method, std::size_t i) {
  const Pin& pin = design_.pins[i];
  const double half_mm = tang_mm(pin) / 2;
  const Sensitivity pin_size = variables_.of(&ShopErrors::pin_size_mm, Sharing::both);
  PinHoles made{.left = sized(pin, Which::left, pin_size), .right = sized(pin, Which::right, pin_size)};
  made.tang.inner = {.z_mm = half_mm};
  made.tang.outer = {.z_mm = -half_mm};
  set_room(made.tang.inner, radius_of(variables_, tang_hole(design_, pin)), pin, pin_size);
  made.tang.outer.room_mm = made.tang.inner.room_mm;
  made.tang.outer.room = made.tang.inner.room;
  Axis left{.from_mm = half_mm};
  Axis right{.from_mm = -half_mm};
  Axis tang{.from_mm = half_mm};
  method.drill_scales(*this, i, left, right);
  method.drill_tang(*this, i, tang);
  put(made.left, left);
  put(made.right, right);
  put(made.tang, tang);
  return made;
}

double HoleDriller::scale_mm(const Pin& pin, Which which) const {
  return std::max(kShortestHoleMm, handle_.side(which).surface.height_mm(pin.at_mm));
}

Guidance HoleDriller::through_tang(std::size_t i) const {
  const Pin& pin = design_.pins[i];
  const double room = std::max(0.0, tang_hole(design_, pin).actual_mm() - drill_mm(pin));
  return {room + design_.drilling.errors.drill_play_mm, tang_mm(pin)};
}

Guidance HoleDriller::through_first(std::size_t i) const {
  const Pin& pin = design_.pins[i];
  return {design_.drilling.errors.drill_play_mm, scale_mm(pin, Which::left) + tang_mm(pin)};
}

Guidance HoleDriller::through_guide(std::size_t i) const {
  const auto bore = std::ranges::find(guide_->bores, i, &GuideBore::pin);
  // A bushing is bought with its own published room; its hole in the plate is pressed.
  const auto bushing = bore->for_bushing ? bushing_bore_allowance(bore->drill_mm) : std::nullopt;
  const double room = bushing ? bushing->upper_mm : std::max(0.0, bore->diameter_mm - bore->drill_mm);
  return {room, guide_->thickness_at_mm(bore->at.x)};
}

/// A scale and its liners are one body. Of their holes' rims the outermost counts and the one that holds
/// the pin's slope best beside it: the liners' at the tang, or where that is wider by much, the scale's
/// own.
RimmedHole HoleDriller::sized(const Pin& pin, Which which, Sensitivity pin_size) {
  const double liner_mm = handle_.side(which).liner_total_mm;
  const double height_mm = scale_mm(pin, which);
  const double sign = which == Which::left ? 1 : -1;
  const double face_mm = tang_mm(pin) / 2;
  RimmedHole hole;
  hole.outer.z_mm = sign * (face_mm + height_mm);
  const Radius scale = radius_of(variables_, pin.scale_hole);
  set_room(hole.outer, scale, pin, pin_size);
  hole.inner = hole.outer;
  hole.inner.z_mm = sign * face_mm;
  if (liner_mm <= 0 || pin.liner_hole == pin.scale_hole) return hole;
  Rim liner{.z_mm = sign * face_mm};
  set_room(liner, radius_of(variables_, pin.liner_hole), pin, pin_size);
  // At the tang a pin that the scale alone holds is off by its room there and twice what it tilts.
  const double own_mm = height_mm - liner_mm;
  if (own_mm >= kShortestHoleMm && liner.room_mm > hole.outer.room_mm * (1 + 2 * liner_mm / own_mm))
    hole.inner.z_mm = sign * (face_mm + liner_mm);
  else
    hole.inner = liner;
  return hole;
}

void HoleDriller::drill(Axis& axis, const Guidance& guidance, Sharing sharing) {
  axis.place.go_by(room_of(variables_, guidance, sharing), 1);
  axis.slope.push_back(lean_of(variables_, design_, guidance, sharing));
  axis.slope.push_back(wander(sharing));
}

void HoleDriller::drill_tang(Axis& tang, const Guidance& guidance) {
  tang.place.go_by(room_of(variables_, guidance, Sharing::both), 1);
  tang.slope.push_back(lean_of(variables_, design_, guidance, Sharing::both));
}

void HoleDriller::place_tang(Axis& tang) {
  const Sensitivity x = variables_.of(&ShopErrors::tang_hole_place_mm, Sharing::both);
  tang.place.go_by({x, variables_.of(&ShopErrors::tang_hole_place_mm, Sharing::both)}, 1);
}

Pair HoleDriller::free_lean(Sharing sharing) {
  return lean_of(variables_, design_, {}, sharing);
}

Pair HoleDriller::wander(Sharing sharing) {
  const Sensitivity x = variables_.of(&ShopErrors::drill_wander_deg, sharing);
  return {x, variables_.of(&ShopErrors::drill_wander_deg, sharing)};
}

}  // namespace haftwright::alignment
