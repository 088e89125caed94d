// A place of the handle as it is seen and taken hold of: on a face, or edge-on.
#pragma once

namespace haftwright {

enum class FoldRegion { left_face, edge_strip, right_face };

/// x and y on a face, x and z on the strip that shows spine or belly edge-on.
struct FoldPlace {
  FoldRegion region = FoldRegion::left_face;
  double x_mm = 0;
  double y_or_z_mm = 0;  ///< y on a face, z on the strip
};

}  // namespace haftwright
