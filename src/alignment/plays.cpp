// What the drill does to each hole, and what room that leaves the pins.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "chain_parts.hpp"
#include "haftwright/reference/drills.hpp"

namespace haftwright::alignment {
namespace {

/// What guides the drill: its room there and how long it is held.
struct Guidance {
  double clearance_mm = 0;
  double length_mm = 0;  ///< 0: nothing guides it
};

/// Two variables of a hole that leans: offset for each mm of depth.
struct LeanVariables {
  Term x;
  Term y;
};

double height_at(const Handle& handle, Which which, Vec2 at) {
  return std::max(0.0, handle.side(which).surface.height_mm(at));
}

/// Offset of a hole's mouth: half the drill's room in what guides it.
void add_offset(ChainPin& pin, Variables& variables, const Guidance& guidance, double sign) {
  const auto own = [&] {
    return variables.even("drill_room", "the drill's room in what guides it", guidance.clearance_mm / 2);
  };
  pin.offset_x.push_back(times(own(), sign));
  pin.offset_y.push_back(times(own(), sign));
}

/// A guided drill leans at most by its room over the guide's length (see Variables::even's words), and no
/// more than a free one.
LeanVariables lean_of(Variables& variables, const Design& design, const Guidance& guidance) {
  const double free = std::tan(design.drilling.errors.drill_lean_deg * std::numbers::pi / 180);
  const double guided = guidance.length_mm > 0 ? guidance.clearance_mm / guidance.length_mm : free;
  const double size = std::min(free, guided);
  const auto own = [&] { return variables.even("drill_lean_deg", "lean of the drill", size); };
  const Term x = own();
  return {x, own()};
}

/// A hole leaning through `height_mm`: its middle is off by half of that, `sign` telling which way it counts,
/// and a straight pin loses as much room.
void add_lean(ChainPin& pin, const LeanVariables& lean, double height_mm, double offset_mm) {
  pin.offset_x.push_back(times(lean.x, offset_mm));
  pin.offset_y.push_back(times(lean.y, offset_mm));
  pin.leans.push_back({times(lean.x, height_mm / 2), times(lean.y, height_mm / 2)});
}

/// Half a hole's diameter with its spread. Unmeasured, a drilled hole lies in a published range that is not
/// centred on the drill's size.
struct Radius {
  double nominal_mm = 0;
  Term term;
};
Radius radius_of(Variables& variables, const HoleSize& hole) {
  const double diameter = hole.actual_mm();
  if (!hole.diameter_mm)
    if (const auto range = drilled_hole_allowance(diameter))
      return {(diameter + (range->lower_mm + range->upper_mm) / 2) / 2,
              variables.even("hole_allowance", "size of drilled holes that were not measured",
                             (range->upper_mm - range->lower_mm) / 4)};
  return {diameter / 2, times(variables.of(&ShopErrors::hole_size_mm), 0.5)};
}

/// The tighter of a scale's hole and its liners', as one body.
Radius side_radius(Variables& variables, const Handle& handle, const Pin& pin, Which which) {
  const bool lined = handle.side(which).liner_total_mm > 0;
  const bool tighter = lined && pin.liner_hole.actual_mm() < pin.scale_hole.actual_mm();
  return radius_of(variables, tighter ? pin.liner_hole : pin.scale_hole);
}

/// The drill as it is: the listed size, or for a typed hole that hole.
double drill_mm(const Pin& pin) {
  if (const auto drill = find_drill(pin.scale_hole.drill)) return drill->diameter_mm;
  return pin.scale_hole.actual_mm();
}

double tang_hole_mm(const Design& design, const Pin& pin) {
  if (pin.existing_tang_hole.empty()) return pin.tang_hole.actual_mm();
  for (const TangHole& hole : design.tang.holes)
    if (hole.name == pin.existing_tang_hole) return hole.diameter_mm;
  return drill_mm(pin);
}

class Plays {
 public:
  Plays(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
        const DrillGuide* guide)
      : variables_(variables), design_(design), handle_(handle), way_(way), guide_(guide) {}

  std::vector<Play> all() {
    if (way_ == DrillWay::guide_pinned) return {side_play(Which::left), side_play(Which::right)};
    std::vector<Play> plays{play_of([this](std::size_t i) { return pair_pin(i); })};
    // Holes drilled apart from the tang's must still let the pins through it.
    if (way_ == DrillWay::taped || way_ == DrillWay::guide)
      plays.push_back(play_of([this](std::size_t i) { return fit_pin(i); }));
    return plays;
  }

 private:
  template <class MakePin>
  Play play_of(MakePin make) {
    Play play;
    for (std::size_t i = 0; i < design_.pins.size(); ++i) play.pins.push_back(make(i));
    play.free_along = {variables_.of(&ShopErrors::match_along_mm)};
    play.free_across = {variables_.of(&ShopErrors::set_across_mm)};
    play.free_turn = {variables_.of(&ShopErrors::match_turn_deg)};
    if (!design_.pins.empty()) play.about_mm = design_.pins.front().at_mm;
    return play;
  }

  Guidance through_tang(const Pin& pin) const {
    const double room = std::max(0.0, tang_hole_mm(design_, pin) - drill_mm(pin));
    return {room + design_.drilling.errors.drill_play_mm, handle_.tang_thickness_mm(pin.at_mm.x)};
  }
  Guidance through_first(const Pin& pin) const {
    return {design_.drilling.errors.drill_play_mm,
            height_at(handle_, Which::left, pin.at_mm) + handle_.tang_thickness_mm(pin.at_mm.x)};
  }
  Guidance through_guide(std::size_t i) const {
    for (const GuideBore& bore : guide_->bores)
      if (bore.pin == i) {
        // A bushing is bought with its own published room; its hole in the plate is pressed.
        const auto bushing = bore.for_bushing ? bushing_bore_allowance(bore.drill_mm) : std::nullopt;
        const double room = bushing ? bushing->upper_mm : std::max(0.0, bore.diameter_mm - bore.drill_mm);
        return {room, guide_->thickness_mm};
      }
    return {design_.drilling.errors.drill_play_mm, guide_->thickness_mm};
  }

  ChainPin bare_pin(const Pin& pin) const {
    return {.at_mm = pin.at_mm, .radius_mm = -pin.stock.diameter_mm() / 2};
  }

  void add_radius(ChainPin& pin, const Radius& radius) {
    pin.radius_mm += radius.nominal_mm;
    pin.radius.push_back(radius.term);
  }

  /// Left against right: the room of both holes together.
  ChainPin pair_pin(std::size_t i) {
    const Pin& pin = design_.pins[i];
    ChainPin made = bare_pin(pin);
    made.radius_mm *= 2;
    add_radius(made, side_radius(variables_, handle_, pin, Which::left));
    add_radius(made, side_radius(variables_, handle_, pin, Which::right));
    made.radius.push_back(times(variables_.of(&ShopErrors::pin_size_mm), -1));
    const double left = height_at(handle_, Which::left, pin.at_mm);
    const double right = height_at(handle_, Which::right, pin.at_mm);
    switch (way_) {
      case DrillWay::taped: {
        // One straight hole through both, one at the faces that meet: each side's middle is off its own way.
        const LeanVariables lean = lean_of(variables_, design_, {});
        add_lean(made, lean, left, left / 2);
        add_lean(made, lean, right, right / 2);
        break;
      }
      case DrillWay::to_first: {
        const Guidance first = through_tang(pin);
        add_lean(made, lean_of(variables_, design_, first), left, 0);  // the second hole follows the first
        const Guidance second = through_first(pin);
        add_offset(made, variables_, second, -1);
        add_lean(made, lean_of(variables_, design_, second), right, -right / 2);
        break;
      }
      default: {
        const Guidance guidance = way_ == DrillWay::guide ? through_guide(i) : through_tang(pin);
        add_offset(made, variables_, guidance, 1);
        add_lean(made, lean_of(variables_, design_, guidance), left, left / 2);
        add_offset(made, variables_, guidance, -1);
        add_lean(made, lean_of(variables_, design_, guidance), right, -right / 2);
      }
    }
    return made;
  }

  /// The scales' holes against the tang's.
  ChainPin fit_pin(std::size_t i) {
    const Pin& pin = design_.pins[i];
    ChainPin made = bare_pin(pin);
    made.radius_mm *= 2;
    const Radius scale = side_radius(variables_, handle_, pin, Which::left);
    add_radius(made, scale);
    made.radius_mm += tang_hole_mm(design_, pin) / 2;
    add_tang_place(made, i, 1);
    return made;
  }

  void add_tang_place(ChainPin& made, std::size_t i, double sign) {
    if (way_ != DrillWay::taped && design_.pins[i].existing_tang_hole.empty()) {
      add_offset(made, variables_, through_guide(i), sign);
      return;
    }
    made.offset_x.push_back(times(variables_.of(&ShopErrors::tang_hole_place_mm), sign));
    made.offset_y.push_back(times(variables_.of(&ShopErrors::tang_hole_place_mm), sign));
  }

  /// One scale on pins that stand fixed in the tang; where they stand is the same for both.
  Play side_play(Which which) {
    if (pinned_.empty())
      for (std::size_t i = 0; i < design_.pins.size(); ++i) pinned_.push_back(pinned_place(i));
    return play_of([&](std::size_t i) {
      const Pin& pin = design_.pins[i];
      ChainPin made = bare_pin(pin);
      add_radius(made, side_radius(variables_, handle_, pin, which));
      made.radius.push_back(times(variables_.of(&ShopErrors::pin_size_mm), -0.5));
      made.offset_x = pinned_[i].offset_x;
      made.offset_y = pinned_[i].offset_y;
      const double height = height_at(handle_, which, pin.at_mm);
      const Guidance guidance = through_guide(i);
      add_offset(made, variables_, guidance, 1);
      add_lean(made, lean_of(variables_, design_, guidance), height,
               which == Which::left ? height / 2 : -height / 2);
      return made;
    });
  }

  /// Where a fixed pin stands off its place: its hole's error, and where in the hole the glue held it.
  ChainPin pinned_place(std::size_t i) {
    const Pin& pin = design_.pins[i];
    ChainPin made;
    add_tang_place(made, i, -1);
    const double room = std::max(0.0, tang_hole_mm(design_, pin) - pin.stock.diameter_mm()) / 2;
    const auto own = [&] {
      return variables_.even("fixed_pin", "where a pin was fixed in its tang hole", room);
    };
    made.offset_x.push_back(own());
    made.offset_y.push_back(own());
    return made;
  }

  Variables& variables_;
  const Design& design_;
  const Handle& handle_;
  DrillWay way_;
  const DrillGuide* guide_;
  std::vector<ChainPin> pinned_;
};

}  // namespace

std::vector<Play> plays_of(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
                           const DrillGuide* guide) {
  return Plays(variables, design, handle, way, guide).all();
}

}  // namespace haftwright::alignment
