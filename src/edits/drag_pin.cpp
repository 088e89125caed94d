// Pins.
#include <algorithm>

#include "drag_parts.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/edits/pins.hpp"

namespace haftwright {
namespace {

using namespace edits;

constexpr double kSettled = 1e-9;  // mm: a place that was settled at is met to rounding

std::vector<std::string> ids(const Design& design, Which) {
  return ids_of(design.pins);
}

std::size_t at(const Design& design, const Selection& what) {
  return index_of(design.pins, what.id);
}

bool there(const Design& design, const Selection& what) {
  return at(design, what) < design.pins.size();
}

const Pin& pin_of(const Design& design, const Selection& what) {
  return design.pins[at(design, what)];
}

std::string step(const Design& design, const Selection& what) {
  return "Move " + numbered("pin", at(design, what));
}

void add_grips(const Design& design, const Handle&, std::vector<Grip>& grips) {
  for (const Pin& pin : design.pins) {
    const Selection what{.kind = &draggable::pin, .id = pin.id};
    add_on_faces({.what = what, .label = step(design, what)}, pin.at_mm, grips);
  }
}

std::string title(const Design& design, const Selection& what) {
  const std::size_t pin = at(design, what);
  return design.pins[pin].name.empty() ? numbered("Pin", pin) : pin_name(design, pin);
}

bool met(const std::vector<double>& places, double value) {
  return std::ranges::any_of(places, [&](double place) { return std::abs(place - value) < kSettled; });
}

std::vector<std::string> tell(const HeldThing& held, const Selection& what) {
  const LengthUnit unit = held.design.shown_unit;
  const std::size_t pin = at(held.design, what);
  const Vec2 now = held.design.pins[pin].at_mm;
  std::vector<std::string> lines{place_text(now, unit)};
  if (there(held.base, what) && pin_of(held.base, what).at_mm != now)
    lines.push_back(moved_text(now - pin_of(held.base, what).at_mm, unit));
  if (met(even_spacings_mm(held.design, pin), now.x)) lines.emplace_back("evenly spaced");
  if (now.y == 0)
    lines.emplace_back("on the axis");
  else if (met(level_places_mm(held.design, pin), now.y))
    lines.emplace_back("level with another pin");
  return lines;
}

Edited drag(const Drag& drag, const Selection& what) {
  return move_pin(drag.base, at(drag.base, what), drag.held_to_mm(), {drag.one_way, drag.snap_mm});
}

Edited nudge(const Design& design, const Selection& what, const Nudge& by) {
  return move_pin(design, at(design, what), pin_of(design, what).at_mm + by.by_mm);
}

Edited remove(const Design& design, const Selection& what) {
  return remove_pin(design, at(design, what));
}

constexpr TypedValue kValues[] = {{"along", kAlongTip, schema::kCoordinate,
                                   [](const Design& d, const Selection& s) { return pin_of(d, s).at_mm.x; },
                                   [](const Design& d, const Selection& s, double x) {
                                     return move_pin(d, at(d, s), {x, pin_of(d, s).at_mm.y});
                                   },
                                   step},
                                  {"across", kAcrossTip, schema::kCoordinate,
                                   [](const Design& d, const Selection& s) { return pin_of(d, s).at_mm.y; },
                                   [](const Design& d, const Selection& s, double y) {
                                     return move_pin(d, at(d, s), {pin_of(d, s).at_mm.x, y});
                                   },
                                   step}};

}  // namespace

constinit const Draggable draggable::pin{.noun = "pin",
                                         .how = "Drag it; Shift keeps to along the handle.",
                                         .look = GripLook::pin,
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
