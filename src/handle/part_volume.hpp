// Volumes of a scale between cut planes.
#pragma once

#include "round_over_volume.hpp"

namespace haftwright::layout {

/// Behind `front` and, when given, ahead of `rear`; `region` is the plan between them at s = 0. The planes
/// may not cross within the scale. Exact under the crown; see RoundOverVolume for the rest.
double volume_between_mm3(const ScaleBody& body, const RoundOverVolume& round_over,
                          const std::vector<Outline>& region, const CutPlane& front,
                          const std::optional<CutPlane>& rear);

/// Of a piece or a spacer strip, holes not taken out.
double part_volume_mm3(const ScaleBody& body, const RoundOverVolume& round_over, const Part& part);

}  // namespace haftwright::layout
