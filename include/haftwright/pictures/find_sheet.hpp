// A sheet of paper, a card or another flat rectangle on a picture, found by itself.
#pragma once

#include <array>
#include <optional>

#include "haftwright/geometry/vec.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright {

struct FoundSheet {
  /// In pixels, clockwise as seen, beginning with the one nearest to the picture's upper left corner. Where
  /// the sides meet when drawn out: rounded corners do not matter.
  std::array<Vec2, 4> corners_px{};
  /// How much of the four sides was seen, 0 to 1, the side that was seen least.
  double sides_seen = 0;
  /// How far the edge strays from the sides' straight lines, root of the mean square.
  double stray_px = 0;
};

/// The largest four-sided area that is lighter or darker than what is round it, with straight sides, most of
/// each to be seen, and all corners on the picture; a thing may lie on it and hide a part. Nothing when not
/// sure.
std::optional<FoundSheet> find_sheet(const Photo& photo);

}  // namespace haftwright
