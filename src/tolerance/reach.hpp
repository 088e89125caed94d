// The farthest that a body goes where its holes may be off as well.
#pragma once

#include <span>
#include <vector>

#include "haftwright/tolerance/clearance.hpp"

namespace haftwright::tolerance {

/// Where a pin stands, the body moves by no more than a disc allows, and by any of -1 to 1 times each of
/// `off` beside that.
struct LoosePin {
  Vec2 at_mm{0, 0};
  double radius_mm = 0;  ///< not negative
  std::vector<Vec2> off_mm;
};

bool on_one_spot(std::span<const LoosePin> pins);

/// The greatest value of `effect` on the poses that `pins` leave; where they stand on one spot, or there is
/// but one, on those that do not turn. 0 where there is no pin. Never too little but for rounding (1e-10 mm),
/// and too much by 1e-9 mm or 1e-9 of itself at most, whichever is more.
double farthest_mm(std::span<const LoosePin> pins, const PoseEffect& effect);

}  // namespace haftwright::tolerance
