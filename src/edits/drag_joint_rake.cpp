// The rake of joints: turned by the line on the strip, where the wall shows how it leans.
#include "drag_joint_parts.hpp"

namespace haftwright {
namespace {

using namespace edits;

void add_grips(const Design& design, const Handle& handle, std::vector<Grip>& grips) {
  for_each_joint(design, handle, draggable::joint_rake,
                 [&](const Selection& what, const JointLayout& layout) {
                   for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly}) {
                     const Vec3 end = joint_end(layout, edge);
                     const double z =
                         handle.tang_thickness_mm(end.x) / 2 + handle.side(what.side).liner_total_mm + end.z;
                     grips.push_back({.what = what,
                                      .place = {FoldRegion::edge_strip, end.x, outward(what.side) * z},
                                      .label = rake_step(design, what),
                                      .xys = end,
                                      .seen_from = edge});
                   }
                 });
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  return tell_turn(held, what, "rake", &Joint::rake_deg);
}

Edited drag(const Drag& drag, const Selection& what) {
  const Vec3 held = drag.grip.xys;
  return rake_joint_through(drag.base, what.side, joint_at(drag.base, what), {drag.to_mm.x, held.y, held.z},
                            snap_deg(drag));
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  return rake_joint(design, what.side, joint_at(design, what), joint_of(design, what).rake_deg + by.turn_deg);
}

}  // namespace

constinit const Draggable draggable::joint_rake{.noun = "joint",
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
