// The lowest side wall of a scale.
#pragma once

#include "haftwright/handle/handle.hpp"

namespace haftwright::layout {

/// Looks where the wall's top lies behind the front face, so that a leaning front's overhang counts and what
/// was cut away does not: at every corner, at the front face's ends and at most 1 mm apart, then between
/// these places. Infinite where the front face leaves no wall.
LowWall lowest_wall(const HeightField& surface, double liner_total_mm, const CutPlane& front);

}  // namespace haftwright::layout
