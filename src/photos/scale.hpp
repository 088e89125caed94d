// What gives a photo its scale, found on it: marks, and the part of the plane in which to look for the
// offcut.
#pragma once

#include <optional>
#include <vector>

#include "haftwright/photos/traced.hpp"

namespace haftwright::photos {

struct FoundScale {
  SquaringInput input;  ///< in the picture's sense (`shown`)
  /// The part of the marks' plane round which the ground is the same; none: the box round the marks.
  std::optional<Bounds> within_mm;
  std::optional<FrameSize> frame;
};

FoundScale find_scale(const Photo& picture, const PictureFacts& facts, const TraceRequest& request);

}  // namespace haftwright::photos
