// Volumes of a handle as laid out: what each part holds and what its holes take out.
//
// They are measured when they are asked for and not with every layout, since nobody looks at them while
// something is dragged.
#pragma once

#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright {

struct PartVolume {
  double whole_mm3 = 0;    ///< before drilling
  double drilled_mm3 = 0;  ///< what the pin holes take out
  double left_mm3() const { return whole_mm3 - drilled_mm3; }
};

struct SideVolumes {
  std::vector<PartVolume> parts;  ///< in the order of SideLayout::parts
  double scale_mm3 = 0;           ///< pieces and spacers together, from the whole and not by adding parts
};

struct HandleVolumes {
  double tang_mm3 = 0;  ///< with cutouts, existing holes and pin holes taken out
  SideVolumes left;
  SideVolumes right;
  const SideVolumes& side(Which which) const { return which == Which::left ? left : right; }
};

/// `handle` is what lay_out made of `design`. Pure, and safe from any thread.
HandleVolumes volumes_of(const Design& design, const Handle& handle);

}  // namespace haftwright
