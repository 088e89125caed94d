// The error stack in numbers: independent random variables, what each does to every measure, and the pins'
// clearance that comes on top. Knows nothing of knives: other rooms make stacks of what they build.
//
// A sample: take every variable once; each measure is nominal + sum of its sensitivities + the effect of each
// clearance's pose; the pose is taken from those that the clearance's pins leave, given that sample's hole
// offsets and clearances: evenly, or at their end (ToleranceStack::crept).
#pragma once

#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/tolerance/clearance.hpp"

namespace haftwright {

enum class DistributionShape {
  normal,      ///< the limit holds 95.45 of 100: two standard deviations
  rectangular  ///< even between -limit and +limit
};

/// A variable is standardised: its limit is 1. Sensitivities carry the size.
struct Variable {
  DistributionShape shape = DistributionShape::normal;
  std::size_t contributor = 0;  ///< index in ToleranceStack::contributors
};

struct Sensitivity {
  std::size_t variable = 0;
  double mm_at_limit = 0;  ///< what the variable adds when it is at +1
  bool operator==(const Sensitivity&) const = default;
};
using Sensitivities = std::vector<Sensitivity>;

/// A variable that does `factor` times as much.
inline Sensitivity times(Sensitivity sensitivity, double factor) {
  return {sensitivity.variable, sensitivity.mm_at_limit * factor};
}

/// Sums sensitivities of the same variable; what cancels is left out.
class SensitivitySum {
 public:
  SensitivitySum() = default;
  explicit SensitivitySum(const Sensitivities& sensitivities) { add(sensitivities, 1); }
  void add(const Sensitivities& sensitivities, double factor) {
    for (const Sensitivity& sensitivity : sensitivities)
      sums_[sensitivity.variable] += sensitivity.mm_at_limit * factor;
  }
  Sensitivities sensitivities() const {
    Sensitivities kept;
    for (const auto& [variable, size] : sums_)
      if (std::abs(size) > kNothing) kept.push_back({variable, size});
    return kept;
  }

 private:
  static constexpr double kNothing = 1e-12;  // mm: rounding of what cancels
  std::map<std::size_t, double> sums_;
};

/// What the maker can name and change: "joint's place on a blank".
struct Contributor {
  std::string key;    ///< of the field in the project's shop errors, or "clearance"
  std::string words;  ///< plain words
};

struct Measure {
  enum class Kind { step_mm, angle_deg };  ///< angle: all "mm" of it are degrees
  Kind kind = Kind::step_mm;
  double nominal = 0;
  double visible = 0;  ///< more than this shows
  Sensitivities sensitivities;
};

/// One bound that a pin sets in one clearance: where it stands, |motion + offset| <= radius. A pin is a
/// straight line that may tilt in its holes; the holes' rims that it passes bound the motion in several ways,
/// so that one pin has several of these on one spot.
struct PinBound {
  Vec2 at_mm{0, 0};
  double radius_mm = 0;  ///< nominal; negative: no motion will do
  Sensitivities offset_x;
  Sensitivities offset_y;
  Sensitivities radius;
  /// What radius_mm gains for each mm of room (half of what a hole is wider than its pin) that all holes
  /// gain.
  double radius_for_room = 1;
  /// What it gains in Limits, where holes that the pin never enters count as opened until it just does.
  double opened_mm = 0;
};

/// A hole that its pin must go into wherever the bodies are: it does not where this is below zero.
struct PinRoom {
  double room_mm = 0;  ///< half of what the hole is wider than the pin, nominal
  Sensitivities room;
};

/// A body that its pins hold: the right scale against the left, the tang against a scale, or each scale
/// against pins fixed in the tang.
struct PatternClearance {
  /// What it counts for. A bound takes the place of clearances that follow one likely course of the work.
  enum class Use { samples_and_limits, samples, limits };
  Use use = Use::samples_and_limits;
  std::vector<PinBound> pins;
  std::vector<PinRoom> rooms;
  std::vector<PoseEffect> effects;  ///< one a measure; where none does anything, only the fit is asked for
  /// Where pins do not hold it (none, or one): how the maker lines it up by eye instead. Turn about
  /// the one pin, or about `about_mm` where there is none.
  Sensitivities free_along;
  Sensitivities free_across;
  Sensitivities free_turn;  ///< in radians
  Vec2 about_mm{0, 0};
  /// The clearance, an earlier one, whose random numbers this one takes its pose with; none: numbers of its
  /// own.
  std::optional<std::size_t> numbers_of;
};

struct ToleranceStack {
  std::vector<Contributor> contributors;
  std::vector<Variable> variables;
  std::vector<Measure> measures;
  std::vector<PatternClearance> clearances;
  /// Where in its clearance a body ends up: anywhere, evenly; or pushed in a direction of chance as far as
  /// the pins let it go.
  bool crept = false;
};

/// Every contributor at its limit at once and the clearance at its farthest: |value| can't be more (normal
/// contributors taken as ending at their limit). Holes may be off in every way that their sensitivities
/// allow; each bound that a pin sets is taken at its own worst. A pin that does not go in counts as fitted
/// tight: its hole was opened.
struct Limits {
  double worst = 0;  ///< greatest |measure|
  double rss = 0;  ///< |nominal| + root of the sum of the squares of what each variable, and each clearance,
                   ///< adds at its limit
  double clearance = 0;  ///< the clearances' part of `worst`
};
Limits limits_of(const ToleranceStack& stack, std::size_t measure);

}  // namespace haftwright
