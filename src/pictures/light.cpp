#include "light.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/pictures/photo.hpp"

namespace haftwright {

// The constants of IEC 61966-2-1:1999, 5.2, as printed there.
double light_of_srgb(double value) {
  return value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}

double srgb_of_light(double light) {
  return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
}

namespace pictures {

const std::array<float, 256>& light_table() {
  static const std::array<float, 256> table = [] {
    std::array<float, 256> values{};
    for (std::size_t i = 0; i < values.size(); ++i)
      values[i] = static_cast<float>(light_of_srgb(static_cast<double>(i) / 255));
    return values;
  }();
  return table;
}

SrgbTable::SrgbTable() : values_(static_cast<std::size_t>(kSteps) + 2) {
  for (std::size_t i = 0; i < values_.size(); ++i)
    values_[i] = static_cast<std::uint8_t>(std::lround(
        255 * std::min(1.0, srgb_of_light(static_cast<double>(i) / static_cast<double>(kSteps)))));
}

const SrgbTable& srgb_table() {
  static const SrgbTable table;
  return table;
}

}  // namespace pictures
}  // namespace haftwright
