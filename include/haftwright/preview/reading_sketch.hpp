// Where caliper readings of a dry fit are taken: one side in plan, with a dimension for each.
#pragma once

#include "haftwright/drawing/drawing.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// Outline, joint lines and pins of a side as seen from the left, with the readings of that side beyond the
/// edge that they are taken at, one row each; steps show on both sides. `marked` stands out, with dots at its
/// places; it may be one of Design::dry_fit or one that is still to be taken. Tags are indices in
/// Design::dry_fit. A side without `marked` on it is drawn faint. `design` and `handle` belong together.
Drawing draw_reading_sketch(const Design& design, const Handle& handle, Which side,
                            const CaliperReading& marked);

}  // namespace haftwright
