// PatternClearance: how far a scale can shift and turn while every pin stays in its hole.
//
// A pose is a small motion in the plan: d(p) = (shift.x - turn * p.y, shift.y + turn * p.x) for a point p.
// Each pin leaves its hole's middle by at most `radius_mm`; the poses for which all do are a convex set, an
// intersection of discs carried along the turn, and the farthest that a point can go in a direction is the
// greatest value of a linear function on it.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "haftwright/geometry/pose.hpp"

namespace haftwright {

/// A linear function of a pose: along . shift + turn * turn_rad, in mm.
struct PoseEffect {
  Vec2 along{0, 0};
  double turn_mm = 0;  ///< mm for each radian
  double of(const Pose& pose) const { return glm::dot(along, pose.shift_mm) + turn_mm * pose.turn_rad; }
  bool operator==(const PoseEffect&) const = default;
};

/// A pin in its hole: |d(at) + offset| <= radius.
struct PinClearance {
  Vec2 at_mm{0, 0};
  double radius_mm = 0;  ///< half the clearance, of both scales together where two are compared
  Vec2 offset_mm{0, 0};  ///< how far the hole is from where it should be
  bool operator==(const PinClearance&) const = default;
};

enum class ClearanceKind {
  held,     ///< a bounded set
  no_pin,   ///< nothing holds it
  one_pin,  ///< free to turn about the only pin (or about pins that stand on one spot)
  no_fit    ///< no pose lets every pin in
};

struct FarthestPose {
  ClearanceKind kind = ClearanceKind::held;
  Pose pose;              ///< a pose of the set (held, one_pin)
  double value_mm = 0;    ///< effect.of(pose)
  double at_most_mm = 0;  ///< proven bound: no pose of the set gives more
};

/// The greatest value of `effect` on the poses that `pins` leave; with one pin, on those that do not turn.
/// With none, or where none fits, value and bound are zero.
///
/// at_most_mm - value_mm is at most 1e-9 mm, or 1e-12 of the value if that is more; only where all the room
/// there is is less than a millionth of a millimetre can it grow to 1e-7. Pins with 1e-10 mm of room or less,
/// or short of room by no more than that, touch: value and bound are those of the one place where they can
/// be.
///
/// The turn is taken as small: d() is linear in it. For pins c of clearance and L apart that changes how far
/// a point goes by (c/L)^2/2 of its distance from the pins' middle and half of L together.
FarthestPose farthest(std::span<const PinClearance> pins, const PoseEffect& effect);

/// A pose that leaves every pin as much room as can be (the deepest pose), and that room; negative when none
/// fits. Within 1e-9 mm of the most. No value when the set is unbounded (no pin, one pin).
struct DeepestPose {
  Pose pose;
  double room_mm = 0;
};
std::optional<DeepestPose> deepest(std::span<const PinClearance> pins);

/// A value that a pose changes: offset + effect.of(pose).
struct Step {
  double offset_mm = 0;
  PoseEffect effect;
};
/// The pose within the clearance that makes the greatest |step| as small as can be.
struct BestPose {
  Pose pose;
  double greatest_mm = 0;  ///< greatest |step| left
  double at_least_mm = 0;  ///< proven: no pose of the set leaves less; as close as farthest()'s bound
};
/// No value when no pose lets every pin in. With one pin the turn is free, with none the shift too, and the
/// pose is one of those that make the greatest step smallest: ways that change no step are left alone.
std::optional<BestPose> smallest_steps(std::span<const PinClearance> pins, std::span<const Step> steps);

}  // namespace haftwright
