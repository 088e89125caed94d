// How far the holes let the scales and the tang go on their pins.
#include <algorithm>

#include "drilling_method.hpp"
#include "hole_errors.hpp"

namespace haftwright::alignment {
namespace {

bool on_one_spot(const std::vector<Pin>& pins) {
  constexpr double kSameSpotMm = 1e-6;
  return std::ranges::all_of(
      pins, [&](const Pin& pin) { return glm::distance(pin.at_mm, pins.front().at_mm) < kSameSpotMm; });
}

void append(std::vector<PinBound>& to, std::vector<PinBound> bounds) {
  to.insert(to.end(), std::make_move_iterator(bounds.begin()), std::make_move_iterator(bounds.end()));
}

/// How the maker lines a scale up that pins do not hold.
void line_up_by_eye(PatternClearance& clearance, Variables& variables, const Design& design) {
  if (!design.pins.empty()) clearance.about_mm = design.pins.front().at_mm;
  if (!on_one_spot(design.pins)) return;
  clearance.free_along = {variables.of(&ShopErrors::match_along_mm, Sharing::once)};
  clearance.free_across = {variables.of(&ShopErrors::set_across_mm, Sharing::once)};
  clearance.free_turn = {variables.of(&ShopErrors::match_turn_deg, Sharing::once)};
}

/// Both scales against each other, their pins passing the tang's holes too.
ClearanceOf scales_apart(const Design& design, const std::vector<PinHoles>& holes) {
  ClearanceOf made;
  for (std::size_t i = 0; i < holes.size(); ++i)
    append(made.clearance.pins,
           tilting_pin(design.pins[i].at_mm, holes[i].left, holes[i].right, &holes[i].tang));
  return made;
}

ClearanceOf scale_on_fixed(const Design& design, const std::vector<PinHoles>& holes, Moving moving) {
  ClearanceOf made{.moving = moving, .clearance = {.use = PatternClearance::Use::samples}};
  const bool left = moving == Moving::left;
  for (std::size_t i = 0; i < holes.size(); ++i)
    append(made.clearance.pins, fixed_pin(design.pins[i].at_mm, left ? holes[i].left : holes[i].right,
                                          left ? holes[i].right : holes[i].left));
  return made;
}

/// The most that both can part: wherever the pins were fixed, they are straight and pass both scales.
ClearanceOf either_on_pins(const Design& design, const std::vector<PinHoles>& holes,
                           const PatternClearance& left, const PatternClearance& right) {
  ClearanceOf made = scales_apart(design, holes);
  made.clearance.use = PatternClearance::Use::limits;
  made.clearance.about_mm = left.about_mm;
  for (Sensitivities PatternClearance::*free :
       {&PatternClearance::free_along, &PatternClearance::free_across, &PatternClearance::free_turn})
    for (const PatternClearance* clearance : {&left, &right})
      (made.clearance.*free)
          .insert((made.clearance.*free).end(), (clearance->*free).begin(), (clearance->*free).end());
  return made;
}

/// The tang must go onto the pins that hold each scale.
ClearanceOf tang_on_pins(const Design& design, const std::vector<PinHoles>& holes, Which which) {
  ClearanceOf made{.moving = Moving::tang, .clearance = {.use = PatternClearance::Use::samples}};
  for (std::size_t i = 0; i < holes.size(); ++i) {
    RimmedHole tang = holes[i].tang;
    if (which == Which::right) std::swap(tang.inner, tang.outer);
    append(made.clearance.pins, tilting_pin(design.pins[i].at_mm, tang,
                                            which == Which::left ? holes[i].left : holes[i].right, nullptr));
  }
  return made;
}

/// Both scales while their front faces are shaped: on their pins without the tang, inner face to inner face.
ClearanceOf face_to_face(const Design& design, const Handle& handle, const std::vector<PinHoles>& holes) {
  ClearanceOf made{.moving = Moving::either_at_fronts};
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const Vec2 at = design.pins[i].at_mm;
    PinHoles pin = holes[i];
    const double half_mm = handle.tang_thickness_mm(at.x) / 2;
    for (Rim* rim : {&pin.left.inner, &pin.left.outer}) rim->z_mm -= half_mm;
    for (Rim* rim : {&pin.right.inner, &pin.right.outer}) rim->z_mm += half_mm;
    append(made.clearance.pins, tilting_pin(at, pin.left, pin.right, nullptr));
  }
  return made;
}

}  // namespace

std::vector<ClearanceOf> clearances_of(Variables& variables, const Design& design, const Handle& handle,
                                       const DrillingMethod& method, const DrillGuide* guide) {
  HoleDriller drilling(variables, design, handle, guide);
  std::vector<PinHoles> holes;
  for (std::size_t i = 0; i < design.pins.size(); ++i) holes.push_back(drilling.holes(method, i));
  std::vector<ClearanceOf> clearances;
  if (method.pins_are_fixed) {
    for (const Moving moving : {Moving::left, Moving::right}) {
      clearances.push_back(scale_on_fixed(design, holes, moving));
      line_up_by_eye(clearances.back().clearance, variables, design);
    }
    clearances.push_back(either_on_pins(design, holes, clearances[0].clearance, clearances[1].clearance));
  } else {
    clearances.push_back(scales_apart(design, holes));
    line_up_by_eye(clearances.back().clearance, variables, design);
  }
  if (holes.empty()) return clearances;
  for (const PinHoles& pin : holes)
    for (const RimmedHole* hole : {&pin.left, &pin.right, &pin.tang})
      for (PinRoom& room : rooms_of(*hole)) clearances.front().clearance.rooms.push_back(std::move(room));
  for (const Which which : {Which::left, Which::right})
    clearances.push_back(tang_on_pins(design, holes, which));
  if (design.drilling.fronts_together) {
    clearances.push_back(face_to_face(design, handle, holes));
    line_up_by_eye(clearances.back().clearance, variables, design);
  }
  return clearances;
}

}  // namespace haftwright::alignment
