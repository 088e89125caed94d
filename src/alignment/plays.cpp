// What the drill does to each hole, and how far the holes then let the scales and the tang go on their pins.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "chain_parts.hpp"
#include "haftwright/reference/drills.hpp"
#include "pin_holes.hpp"
#include "tilt.hpp"

namespace haftwright::alignment {
namespace {

/// No hole is taken as shorter than this: what so short a hole says of a pin's slope is nothing.
constexpr double kShortestHoleMm = 0.1;

/// What guides the drill: its room there and how long it is held.
struct Guidance {
  double clearance_mm = 0;
  double length_mm = 0;  ///< 0: nothing guides it
};

/// Two variables, of x and of y.
struct Pair {
  Term x;
  Term y;
};

/// What puts holes off their places, in the order of what was drilled: terms of x and of y.
struct Line {
  Terms x;
  Terms y;
  void go_by(const Pair& variable, double factor) {
    x.push_back(times(variable.x, factor));
    y.push_back(times(variable.y, factor));
  }
};

/// A drilled hole's axis: off by `place` at the height `from_mm`, and by `slope` more for each mm upward.
struct Axis {
  double from_mm = 0;
  Line place;
  std::vector<Pair> slope;

  Line at(double z_mm) const {
    Line line = place;
    for (const Pair& lean : slope) line.go_by(lean, z_mm - from_mm);
    return line;
  }
};

/// How far half the drill's room lets a hole's mouth be off.
Pair room_of(Variables& variables, const Guidance& guidance, Sharing sharing) {
  const auto own = [&] {
    return variables.even({"drill_room", "the drill's room in what guides it"}, guidance.clearance_mm / 2,
                          sharing);
  };
  const Term x = own();
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
  const Term x = own();
  return {x, own()};
}

/// What the drill wanders in the wood beside that.
Pair wander_of(Variables& variables, Sharing sharing) {
  const Term x = variables.of(&ShopErrors::drill_wander_deg, sharing);
  return {x, variables.of(&ShopErrors::drill_wander_deg, sharing)};
}

/// Half a hole's diameter with its spread. Unmeasured, a drilled hole lies in a published range that is not
/// centred on the drill's size.
struct Radius {
  double nominal_mm = 0;
  Term term;
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

bool on_one_spot(const std::vector<Pin>& pins) {
  constexpr double kSameSpotMm = 1e-6;
  return std::ranges::all_of(
      pins, [&](const Pin& pin) { return glm::distance(pin.at_mm, pins.front().at_mm) < kSameSpotMm; });
}

/// The holes of one pin. The tang's inner rim is the one toward the left scale.
struct PinHoles {
  RimmedHole left;
  RimmedHole right;
  RimmedHole tang;
};

/// Drills the holes of each pin, the way that is asked for.
class Drill {
 public:
  Drill(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
        const DrillGuide* guide)
      : variables_(variables), design_(design), handle_(handle), way_(way), guide_(guide) {}

  PinHoles holes(std::size_t i) {
    const Pin& pin = design_.pins[i];
    const double half_mm = tang_mm(pin) / 2;
    const Term pin_size = variables_.of(&ShopErrors::pin_size_mm, Sharing::both);
    PinHoles made{.left = sized(pin, Which::left, pin_size), .right = sized(pin, Which::right, pin_size)};
    made.tang.inner = {.z_mm = half_mm};
    made.tang.outer = {.z_mm = -half_mm};
    set_room(made.tang.inner, radius_of(variables_, tang_hole(design_, pin)), pin, pin_size);
    made.tang.outer.room_mm = made.tang.inner.room_mm;
    made.tang.outer.room = made.tang.inner.room;
    Axis left{.from_mm = half_mm};
    Axis right{.from_mm = -half_mm};
    Axis tang{.from_mm = half_mm};
    drill_scales(i, left, right);
    drill_tang(i, tang);
    put(made.left, left);
    put(made.right, right);
    put(made.tang, tang);
    return made;
  }

 private:
  double tang_mm(const Pin& pin) const { return handle_.tang_thickness_mm(pin.at_mm.x); }
  double scale_mm(const Pin& pin, Which which) const {
    return std::max(kShortestHoleMm, handle_.side(which).surface.height_mm(pin.at_mm));
  }

  Guidance through_tang(const Pin& pin) const {
    const double room = std::max(0.0, tang_hole(design_, pin).actual_mm() - drill_mm(pin));
    return {room + design_.drilling.errors.drill_play_mm, tang_mm(pin)};
  }
  Guidance through_first(const Pin& pin) const {
    return {design_.drilling.errors.drill_play_mm, scale_mm(pin, Which::left) + tang_mm(pin)};
  }
  Guidance through_guide(std::size_t i) const {
    const auto bore = std::ranges::find(guide_->bores, i, &GuideBore::pin);
    // A bushing is bought with its own published room; its hole in the plate is pressed.
    const auto bushing = bore->for_bushing ? bushing_bore_allowance(bore->drill_mm) : std::nullopt;
    const double room = bushing ? bushing->upper_mm : std::max(0.0, bore->diameter_mm - bore->drill_mm);
    return {room, guide_->thickness_at_mm(bore->at.x)};
  }

  void set_room(Rim& rim, const Radius& radius, const Pin& pin, Term pin_size) {
    rim.room_mm = radius.nominal_mm - pin.stock.diameter_mm() / 2;
    rim.room = {radius.term, times(pin_size, -0.5)};
  }

  /// A scale and its liners are one body. Of their holes' rims the outermost counts and the one that holds
  /// the pin's slope best beside it: the liners' at the tang, or where that is wider by much, the scale's
  /// own.
  RimmedHole sized(const Pin& pin, Which which, Term pin_size) {
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

  static void put(RimmedHole& hole, const Axis& axis) {
    for (Rim* rim : {&hole.inner, &hole.outer}) {
      Line off = axis.at(rim->z_mm);
      rim->x = std::move(off.x);
      rim->y = std::move(off.y);
    }
  }

  void drill_scales(std::size_t i, Axis& left, Axis& right) {
    const Pin& pin = design_.pins[i];
    if (way_ == DrillWay::taped) {
      // One straight hole, drilled where the inner faces meet; they come to stand a tang apart.
      const Pair through_both = lean_of(variables_, design_, {}, Sharing::once);
      for (Axis* axis : {&left, &right})
        axis->slope = {through_both, wander_of(variables_, Sharing::each_side)};
    } else if (way_ == DrillWay::to_first) {
      // The second hole goes on straight where the first one leads, but for its own room, lean and wander.
      drill_one(left, through_tang(pin), Sharing::both);
      const Guidance first = through_first(pin);
      right.place = left.at(right.from_mm);
      right.slope = left.slope;
      drill_one(right, first, Sharing::once);
    } else {
      const Guidance guidance = way_ == DrillWay::by_eye ? through_tang(pin) : through_guide(i);
      for (Axis* axis : {&left, &right}) drill_one(*axis, guidance, Sharing::each_side);
    }
  }

  void drill_one(Axis& axis, const Guidance& guidance, Sharing sharing) {
    axis.place.go_by(room_of(variables_, guidance, sharing), 1);
    axis.slope.push_back(lean_of(variables_, design_, guidance, sharing));
    axis.slope.push_back(wander_of(variables_, sharing));
  }

  /// Where the tang's hole guided the drill, the scales' holes are off against it.
  void drill_tang(std::size_t i, Axis& tang) {
    if (way_ == DrillWay::by_eye || way_ == DrillWay::to_first) return;
    if (way_ != DrillWay::taped && design_.pins[i].existing_tang_hole.empty()) {
      tang.place.go_by(room_of(variables_, through_guide(i), Sharing::both), 1);
      tang.slope.push_back(lean_of(variables_, design_, through_guide(i), Sharing::both));
      return;
    }
    const Term x = variables_.of(&ShopErrors::tang_hole_place_mm, Sharing::both);
    tang.place.go_by({x, variables_.of(&ShopErrors::tang_hole_place_mm, Sharing::both)}, 1);
  }

  Variables& variables_;
  const Design& design_;
  const Handle& handle_;
  DrillWay way_;
  const DrillGuide* guide_;
};

void append(std::vector<ChainPin>& to, std::vector<ChainPin> bounds) {
  to.insert(to.end(), std::make_move_iterator(bounds.begin()), std::make_move_iterator(bounds.end()));
}

/// How the maker lines a scale up that pins do not hold.
void line_up_by_eye(Play& play, Variables& variables, const Design& design) {
  if (!design.pins.empty()) play.about_mm = design.pins.front().at_mm;
  if (!on_one_spot(design.pins)) return;
  play.free_along = {variables.of(&ShopErrors::match_along_mm, Sharing::once)};
  play.free_across = {variables.of(&ShopErrors::set_across_mm, Sharing::once)};
  play.free_turn = {variables.of(&ShopErrors::match_turn_deg, Sharing::once)};
}

/// Both scales against each other, their pins passing the tang's holes too.
PlayOf scales_apart(const Design& design, const std::vector<PinHoles>& holes) {
  PlayOf made;
  for (std::size_t i = 0; i < holes.size(); ++i)
    append(made.play.pins, tilting_pin(design.pins[i].at_mm, holes[i].left, holes[i].right, &holes[i].tang));
  return made;
}

PlayOf scale_on_fixed(const Design& design, const std::vector<PinHoles>& holes, Moving moving) {
  PlayOf made{.moving = moving, .play = {.use = Play::Use::draws}};
  const bool left = moving == Moving::left;
  for (std::size_t i = 0; i < holes.size(); ++i)
    append(made.play.pins, fixed_pin(design.pins[i].at_mm, left ? holes[i].left : holes[i].right,
                                     left ? holes[i].right : holes[i].left));
  return made;
}

/// The most that both can part: wherever the pins were fixed, they are straight and pass both scales.
PlayOf either_on_pins(const Design& design, const std::vector<PinHoles>& holes, const Play& left,
                      const Play& right) {
  PlayOf made = scales_apart(design, holes);
  made.play.use = Play::Use::limits;
  made.play.about_mm = left.about_mm;
  for (Terms Play::*free : {&Play::free_along, &Play::free_across, &Play::free_turn})
    for (const Play* play : {&left, &right})
      (made.play.*free).insert((made.play.*free).end(), (play->*free).begin(), (play->*free).end());
  return made;
}

/// The tang must go onto the pins that hold each scale.
PlayOf tang_on_pins(const Design& design, const std::vector<PinHoles>& holes, Which which) {
  PlayOf made{.moving = Moving::tang, .play = {.use = Play::Use::draws}};
  for (std::size_t i = 0; i < holes.size(); ++i) {
    RimmedHole tang = holes[i].tang;
    if (which == Which::right) std::swap(tang.inner, tang.outer);
    append(made.play.pins, tilting_pin(design.pins[i].at_mm, tang,
                                       which == Which::left ? holes[i].left : holes[i].right, nullptr));
  }
  return made;
}

/// Both scales while their front faces are shaped: on their pins without the tang, inner face to inner face.
PlayOf face_to_face(const Design& design, const Handle& handle, const std::vector<PinHoles>& holes) {
  PlayOf made{.moving = Moving::either_at_fronts};
  for (std::size_t i = 0; i < holes.size(); ++i) {
    const Vec2 at = design.pins[i].at_mm;
    PinHoles pin = holes[i];
    const double half_mm = handle.tang_thickness_mm(at.x) / 2;
    for (Rim* rim : {&pin.left.inner, &pin.left.outer}) rim->z_mm -= half_mm;
    for (Rim* rim : {&pin.right.inner, &pin.right.outer}) rim->z_mm += half_mm;
    append(made.play.pins, tilting_pin(at, pin.left, pin.right, nullptr));
  }
  return made;
}

}  // namespace

std::vector<PlayOf> plays_of(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
                             const DrillGuide* guide) {
  Drill drill(variables, design, handle, way, guide);
  std::vector<PinHoles> holes;
  for (std::size_t i = 0; i < design.pins.size(); ++i) holes.push_back(drill.holes(i));
  std::vector<PlayOf> plays;
  if (way == DrillWay::guide_pinned) {
    for (const Moving moving : {Moving::left, Moving::right}) {
      plays.push_back(scale_on_fixed(design, holes, moving));
      line_up_by_eye(plays.back().play, variables, design);
    }
    plays.push_back(either_on_pins(design, holes, plays[0].play, plays[1].play));
  } else {
    plays.push_back(scales_apart(design, holes));
    line_up_by_eye(plays.back().play, variables, design);
  }
  if (holes.empty()) return plays;
  for (const PinHoles& pin : holes)
    for (const RimmedHole* hole : {&pin.left, &pin.right, &pin.tang})
      for (PinRoom& room : rooms_of(*hole)) plays.front().play.rooms.push_back(std::move(room));
  for (const Which which : {Which::left, Which::right}) plays.push_back(tang_on_pins(design, holes, which));
  if (design.drilling.fronts_together) {
    plays.push_back(face_to_face(design, handle, holes));
    line_up_by_eye(plays.back().play, variables, design);
  }
  return plays;
}

}  // namespace haftwright::alignment
