// The poses that pins leave, made ready to search: pins seen from their middle, pins without any room turned
// into fewer ways to move, and a pose from which every other pin still has room.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "cone_program.hpp"
#include "haftwright/tolerance/clearance.hpp"

namespace haftwright::tolerance {

/// Pins nearer together than this stand on one spot.
constexpr double one_spot_mm = 1e-6;
/// A pin with less room than this, either way, touches without room.
constexpr double touching_mm = 1e-10;

/// Pins and effects moved so that the pins' middle is the origin: far from the origin a small turn would
/// drown in the shift that goes with it.
class FromMiddle {
 public:
  explicit FromMiddle(std::span<const PinClearance> pins);
  const std::vector<PinClearance>& pins() const { return pins_; }
  /// Of the pin farthest from the middle.
  double reach_mm() const { return reach_mm_; }
  bool one_spot() const { return reach_mm_ <= one_spot_mm; }
  PoseEffect seen(const PoseEffect& effect) const {
    return {.along = effect.along, .turn_mm = effect.turn_mm - cross(middle_, effect.along)};
  }
  Pose unseen(const Pose& pose) const {
    return {.shift_mm = pose.shift_mm - pose.turn_rad * turned_left(middle_), .turn_rad = pose.turn_rad};
  }

 private:
  Vec2 middle_{0, 0};
  double reach_mm_ = 0;
  std::vector<PinClearance> pins_;
};

/// Poses base + sum of variable * way.
struct PoseSpace {
  Pose base;
  std::array<Pose, 3> ways{};
  std::size_t count = 0;

  void add(const Pose& way) { ways[count++] = way; }
  Pose at(const Variables& variables) const;
  /// |motion at the pin + its offset|, as sides of a cone.
  Cone cone(const PinClearance& pin) const;
  Cone cone(double offset_mm, const PoseEffect& effect) const;
};

/// Poses that pins leave: those of `space` within `free`'s radii.
struct PoseSet {
  PoseSpace space;
  std::vector<PinClearance> free;
  Variables inside{};  ///< strictly within every one of `free`
};

/// Shifts, and turns about the middle of pins within `reach_mm`, as ways of about a millimetre each at the
/// pins.
PoseSpace all_poses(double reach_mm);
PoseSpace shifts_only();

/// No value when no pose of `ways` (all_poses or shifts_only) lets every pin in.
std::optional<PoseSet> pose_set(std::span<const PinClearance> pins, const PoseSpace& ways);

/// The rise is the least by which all radii must grow, so that the room is -value; within `close_part` of it.
ConeAnswer least_growth(std::span<const PinClearance> pins, const PoseSpace& space, double close_part = 0);

}  // namespace haftwright::tolerance
