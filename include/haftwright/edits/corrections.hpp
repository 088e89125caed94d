// Corrections of the joints once a dry fit has shown where they are: the right scale carried along, both
// sides faced off and a strip put in, sides linked again where they have come to be alike.
//
// They leave no readings of the dry fit behind: those tell of joints that are elsewhere now.
#pragma once

#include <cstddef>

#include "haftwright/edits/edited.hpp"
#include "haftwright/geometry/pose.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// A joint's lines on one side: x = place + y tan(slant) + s tan(rake) in the middle of its stack.
struct JointShape {
  double place_mm = 0;
  double tan_slant = 0;
  double tan_rake = 0;
  double stack_mm = 0;  ///< all strips, square to the joint
  /// The front or rear line. `base_slope` as for CutPlane::x0_per_mm.
  CutPlane plane(StripEdge edge, double base_slope) const;
};
JointShape shape_of(const Joint& joint);
/// Its place and slant, and its strips made up to `shape.stack_mm` by the thickest of them; returns which
/// that is. A joint without strips stays without.
std::size_t give_shape(Joint& joint, const JointShape& shape);
/// The joint carried along by a motion of its scale.
JointShape carried(const JointShape& shape, const Pose& pose);

/// The readings of the dry fit are done with.
Edited drop_readings(const Design& design);
/// The right scale's joints carried along by a motion; front faces are dressed flush and stay.
Edited move_right_joints(const Design& design, const Pose& pose);
/// Where both sides' joints are alike, nearer than anybody can cut, the right side follows the left again.
Edited link_equal_joints(const Design& design);

/// A joint's front and rear line at the tang face, parallel: x = at the axis + y slope.
struct JointLines {
  double front_mm = 0;
  double rear_mm = 0;  ///< not ahead of the front line
  double slope = 0;
};
/// A strip's new thickness.
struct StripChange {
  Which side = Which::left;
  std::size_t joint = 0;
  std::size_t strip = 0;
  double from_mm = 0;  ///< 0: there was none
  double to_mm = 0;
};
struct FilledJoint {
  Edited edited;
  StripChange left;
  StripChange right;
};
/// Both sides' joints of that number end at these lines: the thickest strip is made as thick as that takes; a
/// joint without strips gets one, of a sheet such as the side has already. The right side's joints then go
/// their own way. `base_slope` as for CutPlane::x0_per_mm. Refused where a side has no such joint, where the
/// lines cross, and where the other strips are too thick for them.
FilledJoint fill_joint(const Design& design, std::size_t joint, const JointLines& lines, double base_slope);

}  // namespace haftwright
