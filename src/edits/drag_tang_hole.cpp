// Holes that the tang has already.
#include "drag_parts.hpp"
#include "haftwright/edits/tang.hpp"

namespace haftwright {
namespace {

using namespace edits;

std::string step(const Design&, const Selection& what) {
  return "Move " + numbered("tang hole", what.index);
}

bool there(const Design& design, const Selection& what) {
  return what.index < design.tang.holes.size();
}

void add_grips(const Design& design, const Handle&, std::vector<Grip>& grips) {
  for (std::size_t i = 0; i < design.tang.holes.size(); ++i) {
    const Selection what{&draggable::tang_hole, Which::left, i};
    add_on_faces({.what = what, .label = step(design, what)}, design.tang.holes[i].at_mm, grips);
  }
}

std::string title(const Design& design, const Selection& what) {
  return "Tang hole " + design.tang.holes[what.index].name;
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  return {place_text(held.design.tang.holes[what.index].at_mm, held.design.shown_unit)};
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_tang_hole(drag.base, what.index, drag.held_to_mm());
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  const Vec2 from = there(design, what) ? design.tang.holes[what.index].at_mm : Vec2{0, 0};
  return move_tang_hole(design, what.index, from + by.by_mm);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_tang_hole(design, what.index);
}

constexpr TypedValue kValues[] = {
    {"along", kAlongTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return d.tang.holes[s.index].at_mm.x; },
     [](const Design& d, const Selection& s, double x) {
       return move_tang_hole(d, s.index, {x, d.tang.holes[s.index].at_mm.y});
     },
     step},
    {"across", kAcrossTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return d.tang.holes[s.index].at_mm.y; },
     [](const Design& d, const Selection& s, double y) {
       return move_tang_hole(d, s.index, {d.tang.holes[s.index].at_mm.x, y});
     },
     step},
    {"diameter", "as measured", schema::kHoleDiameter,
     [](const Design& d, const Selection& s) { return d.tang.holes[s.index].diameter_mm; },
     [](const Design& d, const Selection& s, double mm) { return size_tang_hole(d, s.index, mm); },
     [](const Design&, const Selection& s) { return numbered("Size of tang hole", s.index); }}};

}  // namespace

constinit const Draggable draggable::tang_hole{.noun = "tang hole",
                                               .how = "Drag it; Shift keeps to along the handle.",
                                               .look = GripLook::cross,
                                               .of_tang = true,
                                               .exists = there,
                                               .add_grips = add_grips,
                                               .title = title,
                                               .tell = tell,
                                               .drag = drag,
                                               .nudge = nudge,
                                               .remove = remove,
                                               .values = kValues};

}  // namespace haftwright
