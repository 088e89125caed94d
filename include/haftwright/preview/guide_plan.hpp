// The drill guide seen from the left, at true size.
#pragma once

#include <vector>

#include "haftwright/drawing/drawing.hpp"
#include "haftwright/guide/drill_guide.hpp"

namespace haftwright {

/// A part of the guide that can be pointed at; the tags of the drawing are indices of these.
struct GuidePart {
  Spot spot;
  double diameter_mm = 0;  ///< of rounds; 0 for windows
};

struct GuidePlan {
  Drawing drawing;
  std::vector<GuidePart> parts;
};

/// Plate, marks of its left face, the left scale's outline under it, sight windows with the edge that joints
/// are set to, fences and stop pins, bores.
GuidePlan draw_guide_plan(const DrillGuide& guide, const Handle& handle);

}  // namespace haftwright
