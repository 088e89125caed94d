// Designs to edit.
#pragma once

#include "haftwright/design/starters.hpp"

namespace haftwright::test {

/// Straight 110 mm tang, two pieces a side with a strip between, a liner, pins at 17.6, 55 and 92.4 mm.
inline Design starter() {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  design.name = "starter";
  return design;
}

/// Passes validate(), but its two joints cross inside the handle.
inline Design crossing_joints() {
  Design design = starter();
  design.left.pieces.push_back(design.left.pieces.front());
  design.left.pieces.back().id.clear();
  Joint joint;
  joint.place_mm = design.left.joints[0].place_mm + 4;
  joint.slant_deg = -45;
  design.left.joints.push_back(joint);
  design.left.joints[0].slant_deg = 45;
  return design;
}

}  // namespace haftwright::test
