// Thickness stations, dragged on the strip.
#include "drag_parts.hpp"
#include "haftwright/edits/finish.hpp"

namespace haftwright {
namespace {

using namespace edits;
using Station = MonotoneCubic::Station;

std::vector<Station> stations_of(const Design& design, const Selection& what) {
  return side_of(design, what.side).finish.thickness_mm;
}

bool there(const Design& design, const Selection& what) {
  return what.index < stations_of(design, what).size();
}

std::string step(const Design& design, const Selection& what) {
  return of_side(design, "Thickness at " + numbered("station", what.index), what.side, SideField::finish);
}

void add_grips(const Design& design, const Handle& handle, std::vector<Grip>& grips) {
  for (const Which side : {Which::left, Which::right}) {
    const std::vector<Station> stations = stations_of(design, {&draggable::station, side});
    for (std::size_t i = 0; i < stations.size(); ++i) {
      const Selection what{&draggable::station, side, i};
      const double z = handle.tang_thickness_mm(stations[i].x) / 2 + stations[i].value;
      grips.push_back({.what = what,
                       .place = {FoldRegion::edge_strip, stations[i].x, outward(side) * z},
                       .label = step(design, what)});
    }
  }
}

std::string title(const Design& design, const Selection& what) {
  return of_side(design, numbered("Station", what.index), what.side, SideField::finish);
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  const LengthUnit unit = held.design.shown_unit;
  const Station station = stations_of(held.design, what)[what.index];
  const auto crest = [&](const SideLayout& layout) {
    return layout.surface.crown_mm({station.x, layout.surface.shape().crest_y_mm});
  };
  std::vector<std::string> lines{
      length_text(station.value, unit) + " thick at " + length_text(station.x, unit),
      "overall " + length_text(held.handle.tang_thickness_mm(station.x) + crest(held.handle.left) +
                                   crest(held.handle.right),
                               unit)};
  if (linked(held.design, SideField::finish)) lines.emplace_back(kTogether);
  return lines;
}

Edited drag(const Drag& drag, const Selection& what) {
  const double x = drag.one_way ? drag.from_mm().x : drag.to_mm.x;
  const double z = outward(what.side) * drag.to_mm.y;
  return move_station(drag.base, what.side, what.index, x, z - drag.handle.tang_thickness_mm(x) / 2);
}

/// Along, the thickness stays; on a tapered tang the grip then goes out or in a little.
Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  const Station from = there(design, what) ? stations_of(design, what)[what.index] : Station{};
  return move_station(design, what.side, what.index, from.x + by.by_mm.x,
                      from.value + outward(what.side) * by.by_mm.y);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_station(design, what.side, what.index);
}

constexpr TypedValue kValues[] = {
    {"along", kAlongTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return stations_of(d, s)[s.index].x; },
     [](const Design& d, const Selection& s, double x) {
       return move_station(d, s.side, s.index, x, stations_of(d, s)[s.index].value);
     },
     step},
    {"thick", "liners and scale of one side, at the highest line", schema::kSideThickness,
     [](const Design& d, const Selection& s) { return stations_of(d, s)[s.index].value; },
     [](const Design& d, const Selection& s, double mm) {
       return move_station(d, s.side, s.index, stations_of(d, s)[s.index].x, mm);
     },
     step}};

}  // namespace

constinit const Draggable draggable::station{
    .noun = "station",
    .how = "Drag it out or in for the thickness, along for its place; Shift keeps its place.",
    .look = GripLook::square,
    .shared = SideField::finish,
    .exists = there,
    .add_grips = add_grips,
    .title = title,
    .tell = tell,
    .drag = drag,
    .nudge = nudge,
    .remove = remove,
    .values = kValues};

}  // namespace haftwright
