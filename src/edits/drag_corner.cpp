// Corners of the tang's outline and of its cutouts.
#include "drag_parts.hpp"
#include "haftwright/edits/tang.hpp"

namespace haftwright {
namespace {

using namespace edits;

const Node& node_of(const Design& design, const Selection& what) {
  return (*chain_of(design, what))[what.index];
}

std::string of_outline(const Selection& what) {
  return whose_outline(what) + (what.cutout ? ", " : " ") + numbered("corner", what.index);
}

std::string step(const Design&, const Selection& what) {
  return "Move " + of_outline(what);
}

void add_corners(std::size_t count, std::optional<std::size_t> cutout, const Design& design,
                 std::vector<Grip>& grips) {
  for (std::size_t i = 0; i < count; ++i) {
    const Selection what{&draggable::corner, Which::left, i, cutout};
    add_on_faces({.what = what, .label = step(design, what)}, node_of(design, what).at, grips);
  }
}

void add_grips(const Design& design, const Handle&, std::vector<Grip>& grips) {
  for (std::size_t k = 0; k < design.tang.cutouts.size(); ++k)
    add_corners(design.tang.cutouts[k].size(), k, design, grips);
  add_corners(design.tang.outline.size(), std::nullopt, design, grips);
}

std::string title(const Design&, const Selection& what) {
  return (what.cutout ? numbered("Cutout", *what.cutout) : "Tang") + ", " + numbered("corner", what.index);
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  const LengthUnit unit = held.design.shown_unit;
  const Vec2 at = node_of(held.design, what).at;
  std::vector<std::string> lines{place_text(at, unit)};
  if (node_exists(held.base, what) && node_of(held.base, what).at != at)
    lines.push_back(moved_text(at - node_of(held.base, what).at, unit));
  return lines;
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_node(drag.base, {what.cutout}, what.index, drag.held_to_mm());
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  const Vec2 from = node_exists(design, what) ? node_of(design, what).at : Vec2{0, 0};
  return move_node(design, {what.cutout}, what.index, from + by.by_mm);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_node(design, {what.cutout}, what.index);
}

constexpr TypedValue kValues[] = {{"along", kAlongTip, schema::kCoordinate,
                                   [](const Design& d, const Selection& s) { return node_of(d, s).at.x; },
                                   [](const Design& d, const Selection& s, double x) {
                                     return move_node(d, {s.cutout}, s.index, {x, node_of(d, s).at.y});
                                   },
                                   step},
                                  {"across", kAcrossTip, schema::kCoordinate,
                                   [](const Design& d, const Selection& s) { return node_of(d, s).at.y; },
                                   [](const Design& d, const Selection& s, double y) {
                                     return move_node(d, {s.cutout}, s.index, {node_of(d, s).at.x, y});
                                   },
                                   step}};

}  // namespace

constinit const Draggable draggable::corner{.noun = "corner",
                                            .how = "Drag it; Shift keeps to along the handle.",
                                            .look = GripLook::square,
                                            .of_tang = true,
                                            .exists = node_exists,
                                            .add_grips = add_grips,
                                            .title = title,
                                            .tell = tell,
                                            .drag = drag,
                                            .nudge = nudge,
                                            .remove = remove,
                                            .values = kValues};

}  // namespace haftwright
