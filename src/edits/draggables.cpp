#include "haftwright/edits/draggables.hpp"

#include "drag_parts.hpp"

namespace haftwright {

std::span<const Draggable* const> draggables() {
  static constexpr const Draggable* kKinds[] = {
      &draggable::station,    &draggable::joint,     &draggable::joint_slant,
      &draggable::joint_rake, &draggable::cutout,    &draggable::edge,
      &draggable::corner,     &draggable::tang_hole, &draggable::pin};
  return kKinds;
}

std::vector<Grip> grips_of(const Design& design, const Handle& handle,
                           std::span<const Draggable* const> kinds) {
  std::vector<Grip> grips;
  for (const Draggable* kind : kinds) kind->add_grips(design, handle, grips);
  return grips;
}

bool exists(const Design& design, const Selection& what) {
  return what.kind && what.kind->exists(design, what);
}

Edited dragged(const Drag& drag) {
  const Selection& what = drag.grip.what;
  return what.kind ? what.kind->drag(drag, what) : Edited::refused("nothing is held");
}

Edited nudged(const Design& design, const Selection& what, const Nudge& nudge) {
  return what.kind ? what.kind->nudge(design, what, nudge) : Edited::refused("nothing is selected");
}

bool removable(const Selection& what) {
  return what.kind && what.kind->remove;
}

Edited removed(const Design& design, const Selection& what) {
  if (!what.kind) return Edited::refused("nothing is selected");
  if (!what.kind->remove)
    return Edited::refused("this " + std::string(what.kind->noun) + " can't be taken away by itself");
  return what.kind->remove(design, what);
}

std::string removal_step(const Selection& what) {
  return what.kind ? "Remove " + edits::numbered(what.kind->noun, what.index) : "Remove";
}

std::optional<SideField> linked_field(const Selection& what) {
  return what.kind ? what.kind->shared : std::nullopt;
}

bool is_joint(const Selection& what) {
  return what.kind == &draggable::joint || what.kind == &draggable::joint_slant ||
         what.kind == &draggable::joint_rake;
}

}  // namespace haftwright
