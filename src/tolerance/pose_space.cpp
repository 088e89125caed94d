#include "pose_space.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::tolerance {
namespace {

/// A pin that can be in one place only: motion at it = `motion`.
struct Fixed {
  Vec2 at{0, 0};
  Vec2 motion{0, 0};
};

/// How far fixed pins may contradict each other.
constexpr double contradiction_mm = 1e-9;

/// Poses of `ways` that move every fixed pin as it must.
std::optional<PoseSpace> held_by(std::span<const Fixed> fixed, const PoseSpace& ways) {
  if (fixed.empty()) return ways;
  const Fixed& first = fixed.front();
  PoseSpace space{.base = {.shift_mm = first.motion}};
  Pose turn = ways.ways[2];
  turn.shift_mm = -turn.turn_rad * turned_left(first.at);
  if (ways.count == 3) {
    const auto spread = [&](const Fixed& pin) { return glm::length(pin.at - first.at); };
    const Fixed& other = *std::ranges::max_element(fixed, {}, spread);
    if (spread(other) > one_spot_mm) {
      const Vec2 lever = turned_left(other.at - first.at);
      const double angle = glm::dot(other.motion - first.motion, lever) / glm::dot(lever, lever);
      space.base = {.shift_mm = first.motion - angle * turned_left(first.at), .turn_rad = angle};
    } else {
      space.add(turn);
    }
  }
  for (const Fixed& pin : fixed)
    if (glm::length(space.base.motion_of(pin.at) - pin.motion) > contradiction_mm) return std::nullopt;
  return space;
}

double length_of(const Cone& cone) {
  return std::hypot(cone.first.at_zero, cone.second.at_zero);
}

/// At the base every pin has a good part of its room.
bool roomy_at_base(const PoseSet& set) {
  return std::ranges::all_of(set.free, [&](const PinClearance& pin) {
    return pin.radius_mm > touching_mm && length_of(set.space.cone(pin)) < 0.9 * pin.radius_mm;
  });
}

/// Parts `pins` into those fixed where the growth holds them, and the others.
void fix_touching(const ConeAnswer& growth, const PoseSpace& space, std::vector<PinClearance>& free,
                  std::vector<Fixed>& fixed) {
  const Pose pose = space.at(growth.at);
  const double most = std::ranges::max(growth.force);
  std::vector<PinClearance> others;
  for (std::size_t i = 0; i < free.size(); ++i) {
    if (growth.force[i] >= 1e-3 * most)
      fixed.push_back({free[i].at_mm, pose.motion_of(free[i].at_mm)});
    else
      others.push_back(free[i]);
  }
  free = others;
}

}  // namespace

FromMiddle::FromMiddle(std::span<const PinClearance> pins) : pins_(pins.begin(), pins.end()) {
  if (pins.empty()) return;
  for (const PinClearance& pin : pins) middle_ += pin.at_mm / static_cast<double>(pins.size());
  for (PinClearance& pin : pins_) {
    pin.at_mm -= middle_;
    reach_mm_ = std::max(reach_mm_, glm::length(pin.at_mm));
  }
}

Pose PoseSpace::at(const Variables& variables) const {
  Pose pose = base;
  for (std::size_t i = 0; i < count; ++i) {
    pose.shift_mm += variables[i] * ways[i].shift_mm;
    pose.turn_rad += variables[i] * ways[i].turn_rad;
  }
  return pose;
}

Cone PoseSpace::cone(const PinClearance& pin) const {
  const Vec2 off = base.motion_of(pin.at_mm) + pin.offset_mm;
  Cone cone{.first = {.at_zero = off.x}, .second = {.at_zero = off.y}, .height = pin.radius_mm};
  for (std::size_t i = 0; i < count; ++i) {
    const Vec2 motion = ways[i].motion_of(pin.at_mm);
    cone.first.slope[i] = motion.x;
    cone.second.slope[i] = motion.y;
  }
  return cone;
}

Cone PoseSpace::cone(double offset_mm, const PoseEffect& effect) const {
  Cone cone{.first = {.at_zero = offset_mm + effect.of(base)}};
  for (std::size_t i = 0; i < count; ++i) cone.first.slope[i] = effect.of(ways[i]);
  return cone;
}

PoseSpace all_poses(double reach_mm) {
  PoseSpace space = shifts_only();
  space.add({.turn_rad = 1 / reach_mm});
  return space;
}

PoseSpace shifts_only() {
  PoseSpace space;
  space.add({.shift_mm = {1, 0}});
  space.add({.shift_mm = {0, 1}});
  return space;
}

ConeAnswer least_growth(std::span<const PinClearance> pins, const PoseSpace& space, double close_part) {
  ConeProgram program{.pose_variables = space.count, .rising = true, .close_part = close_part};
  double start = 0;
  double size = touching_mm;
  for (const PinClearance& pin : pins) {
    Cone cone = space.cone(pin);
    cone.rises = true;
    start = std::max(start, length_of(cone) - cone.height);
    size = std::max({size, std::abs(cone.height), length_of(cone)});
    program.cones.push_back(cone);
  }
  Variables from{};
  from[space.count] = start + size;
  return least_cost(program, from);
}

std::optional<PoseSet> pose_set(std::span<const PinClearance> pins, const PoseSpace& ways) {
  PoseSet set{.space = ways};
  std::vector<Fixed> fixed;
  for (const PinClearance& pin : pins) {
    if (pin.radius_mm < -touching_mm) return std::nullopt;
    if (pin.radius_mm <= touching_mm)
      fixed.push_back({pin.at_mm, -pin.offset_mm});
    else
      set.free.push_back(pin);
  }
  const std::optional<PoseSpace> held = held_by(fixed, ways);
  if (!held) return std::nullopt;
  set.space = *held;
  while (!roomy_at_base(set)) {
    const ConeAnswer growth = least_growth(set.free, set.space, 0.5);
    if (growth.value < -touching_mm) {
      std::copy_n(growth.at.begin(), set.space.count, set.inside.begin());
      return set;
    }
    if (growth.at_least > touching_mm) return std::nullopt;
    // Pins that touch leave fewer ways; where rounding lets none of those in, the pose just found does.
    const PoseSpace found{.base = set.space.at(growth.at)};
    fix_touching(growth, set.space, set.free, fixed);
    set.space = held_by(fixed, ways).value_or(found);
    if (set.space.count == 0) {
      set = {.space = found};
      return set;
    }
  }
  return set;
}

}  // namespace haftwright::tolerance
