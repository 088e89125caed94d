// A picture of the plane itself: square from above, at one scale.
#pragma once

#include "haftwright/pictures/squaring.hpp"

namespace haftwright {

struct WarpSettings {
  unsigned threads = 0;  ///< 0: as many as the machine has. The same bits for any number.
  std::int64_t most_px = 150'000'000;
};

/// What `photo` shows of the box `mm`, at `px_per_mm`: the middle of the first pixel is half a pixel from the
/// upper left corner (mm.low.x, mm.high.y). Filtered in linear light; where the picture has more pixels than
/// are wanted they are averaged. White where the photo ends. The photo must have the size that was squared
/// up. Throws PictureError for more pixels than `settings` allow, std::invalid_argument for an empty box, a
/// scale that is not above 0, a photo of another size.
Photo warp(const Photo& photo, const Squaring& squaring, const Bounds& mm, double px_per_mm,
           const WarpSettings& settings = {});

/// Between the pixels of a warped picture and the plane.
inline Vec2 warped_px_of(Vec2 mm, const Bounds& box, double px_per_mm) {
  return {(mm.x - box.low.x) * px_per_mm, (box.high.y - mm.y) * px_per_mm};
}
inline Vec2 warped_mm_of(Vec2 px, const Bounds& box, double px_per_mm) {
  return {box.low.x + px.x / px_per_mm, box.high.y - px.y / px_per_mm};
}

}  // namespace haftwright
