// Pins.
#include <algorithm>

#include "drag_parts.hpp"
#include "haftwright/edits/pins.hpp"

namespace haftwright {
namespace {

using namespace edits;

constexpr double kSettled = 1e-9;  // mm: a place that was settled at is met to rounding

std::string step(const Design&, const Selection& what) {
  return "Move " + numbered("pin", what.index);
}

bool there(const Design& design, const Selection& what) {
  return what.index < design.pins.size();
}

void add_grips(const Design& design, const Handle&, std::vector<Grip>& grips) {
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Selection what{&draggable::pin, Which::left, i};
    add_on_faces({.what = what, .label = step(design, what)}, design.pins[i].at_mm, grips);
  }
}

std::string title(const Design& design, const Selection& what) {
  const std::string& name = design.pins[what.index].name;
  return name.empty() ? numbered("Pin", what.index) : name;
}

bool met(const std::vector<double>& places, double value) {
  return std::ranges::any_of(places, [&](double place) { return std::abs(place - value) < kSettled; });
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  const LengthUnit unit = held.design.shown_unit;
  const Vec2 at = held.design.pins[what.index].at_mm;
  std::vector<std::string> lines{place_text(at, unit)};
  if (there(held.base, what) && held.base.pins[what.index].at_mm != at)
    lines.push_back(moved_text(at - held.base.pins[what.index].at_mm, unit));
  if (met(even_spacings_mm(held.design, what.index), at.x)) lines.emplace_back("evenly spaced");
  if (at.y == 0)
    lines.emplace_back("on the axis");
  else if (met(level_places_mm(held.design, what.index), at.y))
    lines.emplace_back("level with another pin");
  return lines;
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_pin(drag.base, what.index, drag.held_to_mm(), {drag.one_way, drag.snap_mm});
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  const Vec2 from = there(design, what) ? design.pins[what.index].at_mm : Vec2{0, 0};
  return move_pin(design, what.index, from + by.by_mm);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_pin(design, what.index);
}

constexpr TypedValue kValues[] = {
    {"along", kAlongTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return d.pins[s.index].at_mm.x; },
     [](const Design& d, const Selection& s, double x) {
       return move_pin(d, s.index, {x, d.pins[s.index].at_mm.y});
     },
     step},
    {"across", kAcrossTip, schema::kCoordinate,
     [](const Design& d, const Selection& s) { return d.pins[s.index].at_mm.y; },
     [](const Design& d, const Selection& s, double y) {
       return move_pin(d, s.index, {d.pins[s.index].at_mm.x, y});
     },
     step}};

}  // namespace

constinit const Draggable draggable::pin{.noun = "pin",
                                         .how = "Drag it; Shift keeps to along the handle.",
                                         .look = GripLook::pin,
                                         .exists = there,
                                         .add_grips = add_grips,
                                         .title = title,
                                         .tell = tell,
                                         .drag = drag,
                                         .nudge = nudge,
                                         .remove = remove,
                                         .values = kValues};

}  // namespace haftwright
