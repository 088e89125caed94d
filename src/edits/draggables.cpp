#include "haftwright/edits/draggables.hpp"

#include <algorithm>

#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

Edited not_there(const Selection& what) {
  return Edited::refused("this " + std::string(what.kind->noun) + " is not there any more");
}

}  // namespace

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
  if (!what.kind) return Edited::refused("nothing is held");
  return exists(drag.base, what) ? what.kind->drag(drag, what) : not_there(what);
}

Edited nudged(const Design& design, const Selection& what, const Nudge& nudge) {
  if (!what.kind) return Edited::refused("nothing is selected");
  return exists(design, what) ? what.kind->nudge(design, what, nudge) : not_there(what);
}

bool removable(const Selection& what) {
  return what.kind && what.kind->remove;
}

Edited removed(const Design& design, const Selection& what) {
  if (!what.kind) return Edited::refused("nothing is selected");
  if (!what.kind->remove)
    return Edited::refused("this " + std::string(what.kind->noun) + " can't be taken away by itself");
  return exists(design, what) ? what.kind->remove(design, what) : not_there(what);
}

std::string removal_step(const Design& design, const Selection& what) {
  return what.kind ? "Remove " + numbered(what.kind->noun, index_now(design, what)) : "Remove";
}

Selection selected_at(const Design& design, const Draggable& kind, Which side, std::size_t index) {
  Selection what{&kind, side, index};
  if (!kind.ids) return what;
  what.index = 0;
  const std::vector<std::string> ids = kind.ids(design, side);
  if (index < ids.size()) what.id = ids[index];
  return what;
}

std::size_t index_now(const Design& design, const Selection& what) {
  if (!what.kind || !what.kind->ids) return what.index;
  const std::vector<std::string> ids = what.kind->ids(design, what.side);
  if (what.id.empty()) return ids.size();
  return static_cast<std::size_t>(std::ranges::find(ids, what.id) - ids.begin());
}

std::optional<SideField> linked_field(const Selection& what) {
  return what.kind ? what.kind->shared : std::nullopt;
}

bool is_joint(const Selection& what) {
  return what.kind == &draggable::joint || what.kind == &draggable::joint_slant ||
         what.kind == &draggable::joint_rake;
}

}  // namespace haftwright
