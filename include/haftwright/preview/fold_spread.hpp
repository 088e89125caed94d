// Where 95 of 100 handles would have their joint lines, as the fold view shows it.
#pragma once

#include <cstddef>
#include <vector>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/preview/fold.hpp"

namespace haftwright {

/// A telling line's end on the strip, to be written at: between these two places it may end up.
struct SpreadEnd {
  std::size_t measure = 0;  ///< of the way's line-up
  Vec2 low{0, 0};           ///< drawing mm
  Vec2 high{0, 0};
  bool strip_above = false;  ///< the strip's middle lies above it
};

struct FoldSpread {
  Drawing drawing;
  std::vector<SpreadEnd> ends;
};

/// A soft band round each joint line, where it ends up when the other side's line is held still, and at those
/// that tell most (telling_measures) the limits past which the step shows. `way` without a problem.
FoldSpread draw_spread(const WayReport& way, const FoldMap& map);

}  // namespace haftwright
