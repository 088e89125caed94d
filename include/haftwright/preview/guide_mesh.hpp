// The drill guide as triangles, from its plan alone: quick enough to follow every change of its settings.
//
// In the handle's frame, as the plan: the plate stands where the tang will be. Circles and arcs become chords
// that leave them by at most the given deviation; all else is exact.
#pragma once

#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright {

/// Bodies of kind BodyKind::guide, each a closed mesh. The first is the plate with its fences, bores, stop
/// holes and windows in one piece. Then marks, laid on the faces as thin dark inlays so that they can be
/// read; then what does not fit: an opening that runs out of the plate, into a fence or into another opening
/// (the plan's findings say so) is left out of the plate and stands in it as a plug of a warning colour, a
/// fence in the same case as a body of its own. Throws std::invalid_argument for a deviation outside 0.001 to
/// 1 mm.
Preview build_guide_preview(const DrillGuide& guide, double deviation_mm = 0.02);

}  // namespace haftwright
