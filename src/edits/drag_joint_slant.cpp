// The slant of joints: turned by the line's ends on the faces.
#include "drag_joint_parts.hpp"

namespace haftwright {
namespace {

using namespace edits;

void add_grips(const Design& design, const Handle& handle, std::vector<Grip>& grips) {
  for_each_joint(design, handle, draggable::joint_slant,
                 [&](const Selection& what, const JointLayout& layout) {
                   for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
                     const Vec3 end = joint_end(layout, edge);
                     grips.push_back({.what = what,
                                      .place = {face_of(what.side), end.x, end.y},
                                      .label = slant_step(design, what),
                                      .xys = end});
                   }
                 });
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  return tell_turn(held, what, "slant", &Joint::slant_deg);
}

Edited drag(const Drag& drag, const Selection& what) {
  const Vec3 held = drag.grip.xys;
  return slant_joint_through(drag.base, what.side, joint_at(drag.base, what), {drag.to_mm.x, held.y, held.z},
                             snap_deg(drag));
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  return slant_joint(design, what.side, joint_at(design, what),
                     joint_of(design, what).slant_deg + by.turn_deg);
}

}  // namespace

constinit const Draggable draggable::joint_slant{.noun = "joint",
                                                 .how = kTurnHow,
                                                 .look = GripLook::diamond,
                                                 .shared = SideField::joints,
                                                 .ids = joint_ids,
                                                 .exists = joint_exists,
                                                 .add_grips = add_grips,
                                                 .title = joint_title,
                                                 .tell = tell,
                                                 .drag = drag,
                                                 .nudge = nudge,
                                                 .remove = remove_joint,
                                                 .values = kJointValues};

}  // namespace haftwright
