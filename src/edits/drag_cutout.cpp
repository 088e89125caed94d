// Cutouts of the tang, whole.
#include "drag_parts.hpp"
#include "haftwright/edits/tang.hpp"

namespace haftwright {
namespace {

using namespace edits;

bool there(const Design& design, const Selection& what) {
  return what.index < design.tang.cutouts.size();
}

void add_grips(const Design& design, const Handle& handle, std::vector<Grip>& grips) {
  for (std::size_t k = 0; k < std::min(design.tang.cutouts.size(), handle.cutouts.size()); ++k) {
    const Selection what{&draggable::cutout, Which::left, k};
    add_on_faces({.what = what, .label = "Move " + numbered("cutout", k)},
                 handle.cutouts[k].moments().centroid, grips);
  }
}

std::string title(const Design&, const Selection& what) {
  return numbered("Cutout", what.index);
}

std::vector<std::string> tell(const HeldThing&, const Selection&) {
  return {};
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_cutout(drag.base, what.index, drag.held_to_mm() - drag.from_mm());
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  return move_cutout(design, what.index, by.by_mm);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_cutout(design, what.index);
}

}  // namespace

constinit const Draggable draggable::cutout{.noun = "cutout",
                                            .how = "Drag it; Shift keeps to along the handle.",
                                            .look = GripLook::cross,
                                            .of_tang = true,
                                            .exists = there,
                                            .add_grips = add_grips,
                                            .title = title,
                                            .tell = tell,
                                            .drag = drag,
                                            .nudge = nudge,
                                            .remove = remove};

}  // namespace haftwright
