// Holes that the tang has already.
#include "drag_parts.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/edits/tang.hpp"

namespace haftwright {
namespace {

using namespace edits;

std::vector<std::string> ids(const Design& design, Which) {
  return ids_of(design.tang.holes);
}

std::size_t at(const Design& design, const Selection& what) {
  return index_of(design.tang.holes, what.id);
}

bool there(const Design& design, const Selection& what) {
  return at(design, what) < design.tang.holes.size();
}

const TangHole& hole_of(const Design& design, const Selection& what) {
  return design.tang.holes[at(design, what)];
}

std::string step(const Design& design, const Selection& what) {
  return "Move " + numbered("tang hole", at(design, what));
}

void add_grips(const Design& design, const Handle&, std::vector<Grip>& grips) {
  for (const TangHole& hole : design.tang.holes) {
    const Selection what{.kind = &draggable::tang_hole, .id = hole.id};
    add_on_faces({.what = what, .label = step(design, what)}, hole.at_mm, grips);
  }
}

std::string title(const Design& design, const Selection& what) {
  return "T" + tang_hole_words(design, at(design, what)).substr(1);
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  return {place_text(hole_of(held.design, what).at_mm, held.design.shown_unit)};
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_tang_hole(drag.base, at(drag.base, what), drag.held_to_mm());
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  return move_tang_hole(design, at(design, what), hole_of(design, what).at_mm + by.by_mm);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_tang_hole(design, at(design, what));
}

constexpr TypedValue kValues[] = {
    {"along", kAlongTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return hole_of(d, s).at_mm.x; },
     [](const Design& d, const Selection& s, double x) {
       return move_tang_hole(d, at(d, s), {x, hole_of(d, s).at_mm.y});
     },
     step},
    {"across", kAcrossTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return hole_of(d, s).at_mm.y; },
     [](const Design& d, const Selection& s, double y) {
       return move_tang_hole(d, at(d, s), {hole_of(d, s).at_mm.x, y});
     },
     step},
    {"diameter", "as measured", schema::kHoleDiameter,
     [](const Design& d, const Selection& s) { return hole_of(d, s).diameter_mm; },
     [](const Design& d, const Selection& s, double mm) { return size_tang_hole(d, at(d, s), mm); },
     [](const Design& d, const Selection& s) { return numbered("Size of tang hole", at(d, s)); }}};

}  // namespace

constinit const Draggable draggable::tang_hole{.noun = "tang hole",
                                               .how = "Drag it; Shift keeps to along the handle.",
                                               .look = GripLook::cross,
                                               .of_tang = true,
                                               .ids = ids,
                                               .exists = there,
                                               .add_grips = add_grips,
                                               .title = title,
                                               .tell = tell,
                                               .drag = drag,
                                               .nudge = nudge,
                                               .remove = remove,
                                               .values = kValues};

}  // namespace haftwright
