// Joints, moved along the handle.
#include "drag_joint_parts.hpp"

namespace haftwright {
namespace {

using namespace edits;

void add_grips(const Design& design, const Handle& handle, std::vector<Grip>& grips) {
  for_each_joint(design, handle, draggable::joint, [&](const Selection& what, const JointLayout& layout) {
    const double place_mm = joint_of(design, what).place_mm;
    const double surface_mm = handle.side(what.side).scale_height_mm({place_mm, 0});
    grips.push_back(
        {.what = what,
         .place = {face_of(what.side), place_mm + surface_mm * layout.lines.front().plane.tan_rake, 0},
         .label = place_step(design, what)});
  });
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  if (!joint_exists(held.base, what)) return {};
  const LengthUnit unit = held.design.shown_unit;
  const double place = joint_of(held.design, what).place_mm;
  std::vector<std::string> lines{length_text(place, unit) + " along,  moved " +
                                 moved_text(place - joint_of(held.base, what).place_mm, unit)};
  const std::string others = other_sides(held, what, &Joint::place_mm, "level with",
                                         [&](double mm) { return length_text(mm, unit); });
  if (!others.empty()) lines.push_back(others);
  return lines;
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_joint(drag.base, what.side, joint_at(drag.base, what),
                    joint_of(drag.base, what).place_mm + drag.to_mm.x - drag.from_mm().x, drag.snap_mm);
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  if (by.by_mm.x == 0)
    return Edited::refused("a joint moves along the handle only: use the left and right keys");
  return move_joint(design, what.side, joint_at(design, what), joint_of(design, what).place_mm + by.by_mm.x);
}

}  // namespace

constinit const Draggable draggable::joint{.noun = "joint",
                                           .how = "Drag it along the axis.",
                                           .look = GripLook::ring,
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
