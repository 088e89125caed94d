// Random pin patterns, the same on every machine.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

#include "haftwright/tolerance/clearance.hpp"

namespace haftwright::test {

struct PinRange {
  bool offsets = false;
  bool in_a_row = false;
  double least_radius_mm = 0.01;
  double greatest_radius_mm = 0.5;
  double reach_mm = 100;
};

/// std distributions differ between libraries; these do not.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(bits_() >> 11) * 0x1p-53;
  }
  /// Even in the logarithm.
  double sized(double low, double high) { return low * std::pow(high / low, between(0, 1)); }
  int whole(int low, int high) { return low + static_cast<int>(between(0, high - low + 1)); }
  Vec2 direction() {
    const double angle = between(0, 2 * std::numbers::pi);
    return {std::cos(angle), std::sin(angle)};
  }
  Vec2 point(double reach_mm) { return {between(-reach_mm, reach_mm), between(-reach_mm, reach_mm)}; }
  PoseEffect effect() {
    const double lever = between(-200, 200);
    return {.along = between(0, 2) * direction(), .turn_mm = lever};
  }
  /// With offsets, the pins go in at some pose, most not at the pose of no motion.
  std::vector<PinClearance> pins(int count, const PinRange& range) {
    std::vector<PinClearance> pins;
    const Vec2 middle = point(100);
    const Pose pose{.shift_mm = between(0, range.greatest_radius_mm) * direction(),
                    .turn_rad = between(-0.01, 0.01)};
    for (int i = 0; i < count; ++i) {
      PinClearance pin{.at_mm = middle + point(range.reach_mm / 2),
                       .radius_mm = sized(range.least_radius_mm, range.greatest_radius_mm)};
      if (range.in_a_row) pin.at_mm.y = middle.y;
      if (range.offsets)
        pin.offset_mm = between(0, 0.95) * pin.radius_mm * direction() - pose.motion_of(pin.at_mm);
      pins.push_back(pin);
    }
    return pins;
  }

 private:
  std::mt19937_64 bits_;
};

}  // namespace haftwright::test
