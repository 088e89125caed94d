// The lowest side wall of a scale.
#pragma once

#include "haftwright/handle/measures.hpp"
#include "scale_body.hpp"

namespace haftwright::layout {

/// As haftwright::lowest_wall, of a scale that is still being laid out. Infinite where the front face leaves
/// no wall.
LowWall lowest_wall(const HeightField& surface, double liner_total_mm, const CutPlane& front);

}  // namespace haftwright::layout
