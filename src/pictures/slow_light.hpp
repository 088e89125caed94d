// Light that changes slowly over a picture.
#pragma once

#include <array>
#include <optional>

#include "haftwright/pictures/photo.hpp"
#include "plane.hpp"

namespace haftwright::pictures {

/// The logarithm of the light as a polynomial of the second degree in place: six numbers. It follows a lamp
/// to one side and a lens that darkens its corners, and nothing so small as the figure of wood.
struct SlowLight {
  std::array<double, 6> factors{};  ///< of 1, x, y, x^2, xy, y^2, x and y from -1 to 1
  double width = 1;
  double height = 1;
  Vec3 colour{1, 1, 1};  ///< typical linear light, where at() is 1

  /// How much light falls there, about 1.
  double at(double x, double y) const;
};

/// From the pixels where `mask` is not 0, or from all; what strays far from the rest counts little. Nothing
/// where there are fewer than 100 of them.
std::optional<SlowLight> slow_light(const Photo& photo, const Mask* mask);

}  // namespace haftwright::pictures
