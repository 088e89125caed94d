// Edges of the tang's outline and of its cutouts, bent by their middles.
#include "drag_parts.hpp"
#include "haftwright/edits/tang.hpp"

namespace haftwright {
namespace {

using namespace edits;

Edge edge_of(const Design& design, const Selection& what) {
  const std::vector<Node>& chain = *chain_of(design, what);
  return {chain[what.index].at, chain[(what.index + 1) % chain.size()].at, chain[what.index].bulge};
}

double rise_mm(const Design& design, const Selection& what) {
  return edge_rise_mm(design, {what.cutout}, what.index).value_or(0);
}

std::string step(const Design&, const Selection& what) {
  return "Bend " + whose_outline(what) + (what.cutout ? ", " : " ") + numbered("edge", what.index);
}

void add_edges(std::size_t count, std::optional<std::size_t> cutout, const Design& design,
               std::vector<Grip>& grips) {
  for (std::size_t i = 0; i < count; ++i) {
    const Selection what{&draggable::edge, Which::left, i, cutout};
    const Edge edge = edge_of(design, what);
    add_on_faces({.what = what, .label = step(design, what), .room_mm = edge.length()}, edge.point(0.5),
                 grips);
  }
}

void add_grips(const Design& design, const Handle&, std::vector<Grip>& grips) {
  for (std::size_t k = 0; k < design.tang.cutouts.size(); ++k)
    add_edges(design.tang.cutouts[k].size(), k, design, grips);
  add_edges(design.tang.outline.size(), std::nullopt, design, grips);
}

std::string title(const Design&, const Selection& what) {
  return (what.cutout ? numbered("Cutout", *what.cutout) : "Tang") + ", " + numbered("edge", what.index);
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  const LengthUnit unit = held.design.shown_unit;
  const Edge edge = edge_of(held.design, what);
  return {edge.is_arc() ? "radius " + length_text(std::abs(edge.radius), unit) : "straight",
          "rises " + length_text(rise_mm(held.design, what), unit)};
}

Edited drag(const Drag& drag, const Selection& what) {
  return bend_edge_through(drag.base, {what.cutout}, what.index, drag.held_to_mm(), drag.snap_mm / 2);
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  return set_edge_rise(design, {what.cutout}, what.index, rise_mm(design, what) + by.rise_mm);
}

constexpr TypedValue kValues[] = {{"rise", "how far its middle stands out from straight; 0 is straight",
                                   schema::kCoordinate, rise_mm,
                                   [](const Design& d, const Selection& s, double rise) {
                                     return set_edge_rise(d, {s.cutout}, s.index, rise);
                                   },
                                   step}};

constexpr ThingAction kActions[] = {
    {"Add a corner", "A corner in the middle of this edge; the shape stays as it is.", "Add a corner",
     [](const Design& d, const Selection& s) { return split_edge(d, {s.cutout}, s.index, 0.5); }}};

}  // namespace

constinit const Draggable draggable::edge{
    .noun = "edge",
    .how = "Drag it to bend the edge; near straight it becomes straight.",
    .look = GripLook::dot,
    .of_tang = true,
    .exists = node_exists,
    .add_grips = add_grips,
    .title = title,
    .tell = tell,
    .drag = drag,
    .nudge = nudge,
    .values = kValues,
    .actions = kActions};

}  // namespace haftwright
