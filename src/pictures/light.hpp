// Tables between stored sRGB values and linear light.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace haftwright::pictures {

/// The share of light, 0 to 1, of each of the 256 stored values.
const std::array<float, 256>& light_table();

/// The stored value for a share of light; beyond 0 to 1 the nearest of them.
class SrgbTable {
 public:
  SrgbTable();
  std::uint8_t operator()(float light) const {
    const float scaled = light * kSteps + 0.5f;
    // Also false for what is no number.
    if (!(scaled > 0)) return 0;
    return scaled >= kSteps ? 255 : values_[static_cast<std::size_t>(static_cast<int>(scaled))];
  }
  /// The same for light that is known to lie within 0 to 1, but for rounding.
  std::uint8_t of_unit(float light) const {
    return values_[static_cast<std::size_t>(static_cast<int>(light * kSteps + 0.5f))];
  }

 private:
  /// Fine enough for the darkest values, which lie nearest to each other: a step is 0.4 of one there. Small
  /// enough for a processor's first cache.
  static constexpr float kSteps = 8191;
  std::vector<std::uint8_t> values_;
};
const SrgbTable& srgb_table();

}  // namespace haftwright::pictures
