// What the drill does to each hole: how far it is off and how it leans, and how wide it comes out.
#pragma once

#include <vector>

#include "haftwright/tolerance/tilting_pin.hpp"
#include "stack_parts.hpp"

namespace haftwright::alignment {

/// What guides the drill: its room there and how long it is held.
struct Guidance {
  double clearance_mm = 0;
  double length_mm = 0;  ///< 0: nothing guides it
};

/// Two variables, of x and of y.
struct Pair {
  Sensitivity x;
  Sensitivity y;
};

/// What puts holes off their places, in the order of what was drilled: sensitivities of x and of y.
struct Line {
  Sensitivities x;
  Sensitivities y;
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

/// The holes of one pin. The tang's inner rim is the one toward the left scale.
struct PinHoles {
  RimmedHole left;
  RimmedHole right;
  RimmedHole tang;
};

/// Drills the holes of each pin by one method. The functions with a pin's index say what guides the drill
/// there, the others what that does to a hole's axis.
class HoleDriller {
 public:
  /// `guide` is wanted for the methods through it only.
  HoleDriller(Variables& variables, const Design& design, const Handle& handle, const DrillGuide* guide)
      : variables_(variables), design_(design), handle_(handle), guide_(guide) {}

  PinHoles holes(const DrillingMethod& method, std::size_t pin);

  Guidance through_tang(std::size_t pin) const;
  /// Through the left scale and the tang under it.
  Guidance through_first(std::size_t pin) const;
  Guidance through_guide(std::size_t pin) const;
  bool tang_has_hole(std::size_t pin) const { return !design_.pins[pin].existing_tang_hole.empty(); }

  /// A scale's hole: off and leaning as far as what guides the drill lets it, and wandering beside that.
  void drill(Axis& axis, const Guidance& guidance, Sharing sharing);
  /// The tang's hole through a guide; in steel the drill does not wander.
  void drill_tang(Axis& tang, const Guidance& guidance);
  /// The tang's hole as it was found or drilled on its own.
  void place_tang(Axis& tang);
  /// Lean of a drill that nothing guides.
  Pair free_lean(Sharing sharing);
  Pair wander(Sharing sharing);

 private:
  double tang_mm(const Pin& pin) const { return handle_.tang_thickness_mm(pin.at_mm.x); }
  double scale_mm(const Pin& pin, Which which) const;
  RimmedHole sized(const Pin& pin, Which which, Sensitivity pin_size);

  Variables& variables_;
  const Design& design_;
  const Handle& handle_;
  const DrillGuide* guide_;
};

}  // namespace haftwright::alignment
