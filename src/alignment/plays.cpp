// What the drill does to each hole, and what room that leaves the pins.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "chain_parts.hpp"
#include "haftwright/reference/drills.hpp"
#include "hole_range.hpp"

namespace haftwright::alignment {
namespace {

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

double height_at(const Handle& handle, Which which, Vec2 at) {
  return std::max(0.0, handle.side(which).surface.height_mm(at));
}

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

/// Half a hole's diameter with its spread. Unmeasured, a drilled hole lies in a published range that is not
/// centred on the drill's size.
struct Radius {
  double nominal_mm = 0;
  Term term;
};
Radius radius_of(Variables& variables, const HoleSize& hole) {
  const HoleRange range = range_of(hole);
  if (range.measured)
    return {range.middle_mm / 2, times(variables.of(&ShopErrors::hole_size_mm, Sharing::each_side), 0.5)};
  return {range.middle_mm / 2,
          times(variables.even({"hole_allowance", "size of drilled holes that were not measured"},
                               range.half_mm, Sharing::each_side),
                0.5)};
}

Radius side_radius(Variables& variables, const Handle& handle, const Pin& pin, Which which) {
  return radius_of(variables, tighter_hole(handle, pin, which));
}

/// The drill as it is: the listed size, or for a typed hole that hole.
double drill_mm(const Pin& pin) {
  if (const auto drill = find_drill(pin.scale_hole.drill)) return drill->diameter_mm;
  return pin.scale_hole.actual_mm();
}

/// A hole that the tang has already was measured.
HoleSize tang_hole(const Design& design, const Pin& pin) {
  if (pin.existing_tang_hole.empty()) return pin.tang_hole;
  return {.diameter_mm =
              std::ranges::find(design.tang.holes, pin.existing_tang_hole, &TangHole::name)->diameter_mm};
}

/// One side's hole for a pin: its size, and how far its middle is off its place.
struct Hole {
  Radius radius;
  Terms offset_x;
  Terms offset_y;
  std::vector<ChainPin::Lean> leans;

  void go_by(const Pair& variable, double factor) {
    offset_x.push_back(times(variable.x, factor));
    offset_y.push_back(times(variable.y, factor));
  }
  /// Leaning through `height_mm` its middle goes by half of that, and an upright pin has as much less room.
  void lean_by(const Pair& lean, double height_mm) {
    go_by(lean, height_mm / 2);
    leans.push_back({times(lean.x, height_mm / 2), times(lean.y, height_mm / 2)});
  }
};

/// A pin with no hole round it yet.
ChainPin bare(const Pin& pin) {
  return {.at_mm = pin.at_mm, .radius_mm = 0};
}

void add_hole(ChainPin& pin, const Hole& hole, double sign) {
  pin.radius_mm += hole.radius.nominal_mm;
  pin.radius.push_back(hole.radius.term);
  for (const Term& term : hole.offset_x) pin.offset_x.push_back(times(term, sign));
  for (const Term& term : hole.offset_y) pin.offset_y.push_back(times(term, sign));
  pin.leans.insert(pin.leans.end(), hole.leans.begin(), hole.leans.end());
}

bool on_one_spot(const std::vector<Pin>& pins) {
  constexpr double kSameSpotMm = 1e-6;
  return std::ranges::all_of(
      pins, [&](const Pin& pin) { return glm::distance(pin.at_mm, pins.front().at_mm) < kSameSpotMm; });
}

class Plays {
 public:
  Plays(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
        const DrillGuide* guide)
      : variables_(variables), design_(design), handle_(handle), way_(way), guide_(guide) {
    for (std::size_t i = 0; i < design_.pins.size(); ++i) drill(i);
  }

  std::vector<Play> all() {
    std::vector<Play> plays;
    if (way_ == DrillWay::guide_pinned) {
      plays.push_back(play_of([this](std::size_t i) { return on_fixed(i, left_[i], right_[i]); }));
      plays.push_back(play_of([this](std::size_t i) { return on_fixed(i, right_[i], left_[i]); }));
    } else {
      plays.push_back(play_of([this](std::size_t i) { return left_to_right(i); }));
    }
    // Holes drilled apart from the tang's must still let the pins through it.
    if (!tang_.empty()) plays.push_back(play_of([this](std::size_t i) { return left_to_tang(i); }));
    return plays;
  }

 private:
  template <class MakePin>
  Play play_of(MakePin make) {
    Play play;
    for (std::size_t i = 0; i < design_.pins.size(); ++i) play.pins.push_back(make(i));
    if (!design_.pins.empty()) play.about_mm = design_.pins.front().at_mm;
    if (!on_one_spot(design_.pins)) return play;
    play.free_along = {variables_.of(&ShopErrors::match_along_mm, Sharing::once)};
    play.free_across = {variables_.of(&ShopErrors::set_across_mm, Sharing::once)};
    play.free_turn = {variables_.of(&ShopErrors::match_turn_deg, Sharing::once)};
    return play;
  }

  double tang_mm(const Pin& pin) const { return handle_.tang_thickness_mm(pin.at_mm.x); }

  Guidance through_tang(const Pin& pin) const {
    const double room = std::max(0.0, tang_hole(design_, pin).actual_mm() - drill_mm(pin));
    return {room + design_.drilling.errors.drill_play_mm, tang_mm(pin)};
  }
  Guidance through_first(const Pin& pin) const {
    return {design_.drilling.errors.drill_play_mm, height_at(handle_, Which::left, pin.at_mm) + tang_mm(pin)};
  }
  Guidance through_guide(std::size_t i) const {
    const auto bore = std::ranges::find(guide_->bores, i, &GuideBore::pin);
    // A bushing is bought with its own published room; its hole in the plate is pressed.
    const auto bushing = bore->for_bushing ? bushing_bore_allowance(bore->drill_mm) : std::nullopt;
    const double room = bushing ? bushing->upper_mm : std::max(0.0, bore->diameter_mm - bore->drill_mm);
    return {room, guide_->thickness_at_mm(bore->at.x)};
  }

  /// Both sides' holes of a pin.
  void drill(std::size_t i) {
    const Pin& pin = design_.pins[i];
    Hole left{.radius = side_radius(variables_, handle_, pin, Which::left)};
    Hole right{.radius = side_radius(variables_, handle_, pin, Which::right)};
    const double left_mm = height_at(handle_, Which::left, pin.at_mm);
    const double right_mm = height_at(handle_, Which::right, pin.at_mm);
    Pair through_both;
    if (way_ == DrillWay::taped) {
      // One straight hole, drilled where the inner faces meet; they come to stand a tang apart.
      through_both = lean_of(variables_, design_, {}, Sharing::once);
      left.go_by(through_both, tang_mm(pin) / 2);
      right.go_by(through_both, -tang_mm(pin) / 2);
    } else if (way_ == DrillWay::to_first) {
      // The second hole goes on straight where the first one leads, but for its own room and lean.
      const Guidance first = through_first(pin);
      right.go_by(room_of(variables_, first, Sharing::once), 1);
      right.lean_by(lean_of(variables_, design_, first, Sharing::once), right_mm);
    } else {
      const Guidance guidance = way_ == DrillWay::by_eye ? through_tang(pin) : through_guide(i);
      for (const auto& [hole, height_mm] : {std::pair(&left, left_mm), std::pair(&right, right_mm)}) {
        hole->go_by(room_of(variables_, guidance, Sharing::each_side), 1);
        hole->lean_by(lean_of(variables_, design_, guidance, Sharing::each_side), height_mm);
      }
    }
    left_.push_back(std::move(left));
    right_.push_back(std::move(right));
    pin_size_.push_back(variables_.of(&ShopErrors::pin_size_mm, Sharing::both));
    if (way_ != DrillWay::by_eye && way_ != DrillWay::to_first)
      tang_.push_back(drilled_tang(i, through_both));
  }

  /// The tang's hole where it was not what guided the drill.
  Hole drilled_tang(std::size_t i, const Pair& lean_through_both) {
    const Pin& pin = design_.pins[i];
    Hole hole{.radius = radius_of(variables_, tang_hole(design_, pin))};
    if (way_ == DrillWay::taped) {
      const double half_mm = tang_mm(pin) / 2;
      hole.leans.push_back({times(lean_through_both.x, half_mm), times(lean_through_both.y, half_mm)});
    }
    if (way_ != DrillWay::taped && pin.existing_tang_hole.empty()) {
      hole.go_by(room_of(variables_, through_guide(i), Sharing::both), 1);
    } else {
      const Term x = variables_.of(&ShopErrors::tang_hole_place_mm, Sharing::both);
      hole.go_by({x, variables_.of(&ShopErrors::tang_hole_place_mm, Sharing::both)}, 1);
    }
    return hole;
  }

  void put_in(ChainPin& made, std::size_t i, double halves) {
    made.radius_for_room = halves;
    made.radius_mm -= halves * design_.pins[i].stock.diameter_mm() / 2;
    made.radius.push_back(times(pin_size_[i], -halves / 2));
  }

  /// How far left goes against right: the room of both holes together.
  ChainPin left_to_right(std::size_t i) {
    ChainPin made = bare(design_.pins[i]);
    add_hole(made, left_[i], 1);
    add_hole(made, right_[i], -1);
    put_in(made, i, 2);
    return made;
  }

  ChainPin left_to_tang(std::size_t i) {
    ChainPin made = bare(design_.pins[i]);
    add_hole(made, left_[i], 1);
    add_hole(made, tang_[i], -1);
    put_in(made, i, 2);
    return made;
  }

  /// One scale on pins that were fixed in the tang while both scales held them: they stand midway between
  /// the two holes.
  ChainPin on_fixed(std::size_t i, const Hole& hole, const Hole& other) {
    ChainPin made = bare(design_.pins[i]);
    add_hole(made, hole, 1);
    for (Terms* terms : {&made.offset_x, &made.offset_y})
      for (Term& term : *terms) term.mm_at_limit /= 2;
    for (const Term& term : other.offset_x) made.offset_x.push_back(times(term, -0.5));
    for (const Term& term : other.offset_y) made.offset_y.push_back(times(term, -0.5));
    put_in(made, i, 1);
    return made;
  }

  Variables& variables_;
  const Design& design_;
  const Handle& handle_;
  DrillWay way_;
  const DrillGuide* guide_;
  std::vector<Hole> left_;  // these one a pin
  std::vector<Hole> right_;
  std::vector<Hole> tang_;  // where the tang's hole did not guide the drill
  std::vector<Term> pin_size_;
};

}  // namespace

std::vector<Play> plays_of(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
                           const DrillGuide* guide) {
  return Plays(variables, design, handle, way, guide).all();
}

}  // namespace haftwright::alignment
