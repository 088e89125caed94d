// Where brightness steps from one level to another along a line across an edge, to a part of a pixel.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "haftwright/geometry/vec.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright::pictures {

/// Reads linear light at places between pixels.
class LightReader {
 public:
  explicit LightReader(const Photo& photo) : photo_(photo) {}
  /// Between the four nearest pixels; beyond the picture the nearest.
  Vec3 colour(Vec2 px) const;
  double brightness(Vec2 px) const;
  bool holds(Vec2 px) const {
    return px.x >= 0 && px.y >= 0 && px.x <= photo_.width_px && px.y <= photo_.height_px;
  }

 private:
  const Photo& photo_;
};

/// Weights of ITU-R BT.709.
inline constexpr Vec3 kBrightnessWeights{0.2126, 0.7152, 0.0722};

struct Step {
  double at = 0;      ///< along the line from its middle
  double height = 0;  ///< how far apart the levels on both sides are
};

/// The steepest rise of a profile sampled every `spacing_px`, its middle being 0; the place is where it
/// passes halfway between the levels on both sides. Blur that is the same on both sides does not shift it,
/// when the profile is in linear light. Nothing where it rises nowhere.
std::optional<Step> steepest_rise(std::span<const double> profile, double spacing_px);

/// Where the line's brightness rises along `direction` (unit) within `reach_px` of `middle`.
std::optional<Step> rise_along(const LightReader& light, Vec2 middle, Vec2 direction, double reach_px);

}  // namespace haftwright::pictures
