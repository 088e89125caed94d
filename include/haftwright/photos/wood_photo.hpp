// A face of an offcut as a picture of its wood: squared up, light evened out, without the ground.
#pragma once

#include <filesystem>

#include "haftwright/offcuts/bin.hpp"
#include "haftwright/pictures/read_picture.hpp"
#include "haftwright/pictures/thing_photo.hpp"

namespace haftwright {

struct WoodPhoto {
  ThingPhoto picture;
  Bounds box_mm;  ///< what it shows, in the offcut's frame; its upper left corner is (low.x, high.y)
  double px_per_mm = 0;

  /// In pixels from its upper left corner, right and down.
  Vec2 px_of(Vec2 mm) const {
    return {(mm.x - box_mm.low.x) * px_per_mm, (box_mm.high.y - mm.y) * px_per_mm};
  }
};

/// Wood is carried on so far past its rim, mirrored: as high as the edge of a scale may be (own judgement).
inline constexpr double kWoodPastRimMm = 12;
/// A wood's picture has at most so many pixels a millimetre, which is more than a screen shows of a handle,
/// and so many a side; never more than the photo itself has in its middle.
inline constexpr double kWoodPxPerMm = 12;
inline constexpr int kWoodSidePx = 4096;

/// Reads the file and squares it up. `outline` is the offcut's. Throws PictureError for a file that is no
/// such picture and SquaringError for marks that square nothing up.
WoodPhoto wood_photo(const std::filesystem::path& file, const OffcutPhoto& photo,
                     const std::vector<Node>& outline);
/// The same for a picture that was read already, at its full size.
WoodPhoto wood_photo(const Photo& picture, const PictureFacts& facts, const OffcutPhoto& photo,
                     const std::vector<Node>& outline);

}  // namespace haftwright
