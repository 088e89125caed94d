// The volume under the crown, before any round-over: exact integrals along the outline.
#pragma once

#include <vector>

#include "haftwright/geometry/height_field.hpp"

namespace haftwright::layout {

/// Integral of the crown's height over a plan region. Since the crown is a function of x less a function of
/// y, Green's theorem turns it into an integral along the outline of what both have summed up; error about
/// 1e-9 of the volume.
double crown_volume_mm3(const SurfaceShape& shape, const std::vector<Outline>& region);

}  // namespace haftwright::layout
