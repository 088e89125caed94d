// A picture of a thing alone: the ground round it is left out, and what its surface looks like is carried on
// a little past its rim.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "haftwright/geometry/vec.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright {

struct ThingPhoto {
  Photo photo;
  /// One a pixel: 255 where the picture says what the thing looks like, 0 where it does not; between them it
  /// gives out slowly.
  std::vector<std::uint8_t> shown;
  bool operator==(const ThingPhoto&) const = default;
};

/// How a picture ends at the rim of its thing. Pixels.
struct ThingRim {
  double inset_px = 0;  ///< so far inside its outline the picture may still show the ground
  double past_px =
      0;  ///< so far past its rim it is carried on, mirrored at the rim; the last fifth gives out
  double soft_px = 1;  ///< within so much it gives out where the thing goes on and the picture does not
};

/// The thing lies in the polygon `area_px`, of three places or more. `seen`: whether the picture shows a
/// place; none: it shows all of them. Where nothing is shown the pixels have the thing's mean colour. Throws
/// std::invalid_argument for an empty picture, an area of fewer than three places, and sizes under 0.
ThingPhoto thing_alone(Photo photo, const std::vector<Vec2>& area_px, const ThingRim& rim,
                       const std::function<bool(Vec2)>& seen = {});

/// Mean linear light of red, green and blue, 0 to 1, over what is shown in a polygon; of some thousand pixels
/// where it has more. `share`: how much of the polygon is shown, 0 to 1.
struct MeanLight {
  Vec3 light{0, 0, 0};
  double share = 0;
};
MeanLight mean_light(const ThingPhoto& thing, const std::vector<Vec2>& area_px);

}  // namespace haftwright
