// What a joint's grips share: whichever is held, it is the joint that is selected.
#pragma once

#include <algorithm>
#include <functional>

#include "drag_parts.hpp"
#include "haftwright/edits/build_up.hpp"

namespace haftwright::edits {

std::vector<std::string> joint_ids(const Design& design, Which side);
/// Where the joint stands in its list; the list's size where it is gone.
std::size_t joint_at(const Design& design, const Selection& what);
bool joint_exists(const Design& design, const Selection& what);
const Joint& joint_of(const Design& design, const Selection& what);
std::string joint_title(const Design& design, const Selection& what);
Edited remove_joint(const Design& design, const Selection& what);

/// Calls `add(joint as a thing of that kind, layout)` for each joint that is laid out.
template <class Add>
void for_each_joint(const Design& design, const Handle& handle, const Draggable& kind, Add&& add) {
  for (const Which side : {Which::left, Which::right}) {
    const std::vector<Joint>& joints = design.joints(side);
    const std::size_t count = std::min(joints.size(), handle.side(side).joints.size());
    for (std::size_t i = 0; i < count; ++i)
      add(Selection{.kind = &kind, .side = side, .id = joints[i].id}, handle.side(side).joints[i]);
  }
}
/// The middle of a joint's strips where they come to an edge of the finished surface: (x, y, s).
Vec3 joint_end(const JointLayout& layout, HandleEdge edge);

/// How the other side's figure compares: `same` where it is the same, else `off_by(distance)` and whose it is
/// off; or that both sides move together.
std::string other_sides(const HeldThing& held, const Selection& what, double Joint::*figure, const char* same,
                        const std::function<std::string(double)>& off_by);
/// "slant 3.0°  (was 2.5°)", and the other side's.
std::vector<std::string> tell_turn(const HeldThing& held, const Selection& what, const char* name,
                                   double Joint::*angle_deg);

// Names of the steps.
std::string place_step(const Design& design, const Selection& what);
std::string slant_step(const Design& design, const Selection& what);
std::string rake_step(const Design& design, const Selection& what);

inline constexpr TypedValue kJointValues[] = {
    {"along", "where the middle of the joint crosses the axis at the liner", schema::kCoordinate,
     [](const Design& d, const Selection& s) { return joint_of(d, s).place_mm; },
     [](const Design& d, const Selection& s, double mm) { return move_joint(d, s.side, joint_at(d, s), mm); },
     place_step},
    {"slant", "seen from the side", schema::kSlant,
     [](const Design& d, const Selection& s) { return joint_of(d, s).slant_deg; },
     [](const Design& d, const Selection& s, double deg) {
       return slant_joint(d, s.side, joint_at(d, s), deg);
     },
     slant_step},
    {"rake", "through the thickness", schema::kRake,
     [](const Design& d, const Selection& s) { return joint_of(d, s).rake_deg; },
     [](const Design& d, const Selection& s, double deg) {
       return rake_joint(d, s.side, joint_at(d, s), deg);
     },
     rake_step}};

/// How near to 0 or to the other side's an angle settles, where a drag settles at all.
inline double snap_deg(const Drag& drag) {
  return drag.snap_mm > 0 ? 0.75 : 0;
}
inline constexpr const char* kTurnHow =
    "Drag it along the handle to turn the joint about its place on the axis.";

}  // namespace haftwright::edits
