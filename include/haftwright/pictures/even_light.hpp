// Light and shade of a photograph, evened out.
#pragma once

#include <optional>
#include <vector>

#include "haftwright/geometry/vec.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright {

struct EvenedPhoto {
  Photo photo;
  /// The largest factor that light was multiplied or divided by within the area: 1 where it was even.
  double largest_correction = 1;
};

/// Divides by how light changes over the picture: a polynomial of the second degree in place, fitted to the
/// logarithm of the brightness, so that a lamp to one side goes and the wood's own figure stays. Colours keep
/// their hue; the typical brightness stays. `area_px`: a polygon of three or more places, outside of which
/// nothing counts (the ground round a piece of wood); none: the whole picture. No correction is larger
/// than 4. Throws std::invalid_argument for an empty picture or an area of fewer than three places.
EvenedPhoto even_light(const Photo& photo, const std::vector<Vec2>& area_px = {});

}  // namespace haftwright
