// Volumes of a scale between cut planes.
#pragma once

#include "plane_section.hpp"
#include "round_over_volume.hpp"

namespace haftwright::layout {

/// Behind `front` and, when given, ahead of `rear`; `region` is the plan between them at s = 0. The planes
/// may not cross within the scale. Exact under the crown; see RoundOverVolume and rake_volume_mm3 for the
/// rest.
double volume_between_mm3(const ScaleBody& body, const RoundOverVolume& round_over,
                          const std::vector<Outline>& region, const CutPlane& front,
                          const std::optional<CutPlane>& rear);

/// What lies between a plane and the same plane stood upright on its line at s = 0, positive where the rake
/// adds to the part ahead. Integrated over two planes in between.
double rake_volume_mm3(const ScaleBody& body, const CutPlane& plane);

/// Between two parallel planes whose sections are known; the second lies `apart_mm` behind, along x.
double slab_volume_mm3(const ScaleBody& body, const CutPlane& front, double front_area_mm2,
                       double rear_area_mm2, double apart_mm);

}  // namespace haftwright::layout
