#include "haftwright/edits/pins.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/starters.hpp"
#include "haftwright/words/words.hpp"
#include "parts.hpp"

namespace haftwright {
namespace {

using edits::no_such;

auto pins_in = [](Design& design) -> std::vector<Pin>& { return design.pins; };

/// A pin as a new project starts with.
Pin first_pin(LengthUnit unit) {
  return starter_design(starter_outline(StraightTang{}), Tang{}.thickness_front_mm, unit).pins.front();
}

void drill_own_tang_hole(Pin& pin) {
  if (pin.existing_tang_hole.empty()) return;
  pin.existing_tang_hole.clear();
  pin.tang_hole = pin.scale_hole;
}

Edited with_copy(const Design& design, Pin pin, Vec2 at_mm, const std::string& name) {
  if (design.pins.size() >= limits::kPins) return edits::too_many("pins", limits::kPins);
  pin.id = new_pin_id(design);
  pin.name = name;
  pin.at_mm = at_mm;
  drill_own_tang_hole(pin);
  Design edited = design;
  edited.pins.push_back(std::move(pin));
  return edited;
}

void open_up(HoleSize& hole, const ListedDrill& drill) {
  if (is_given(hole) && smallest_hole_mm(hole) < drill.diameter_mm)
    hole = {std::string(drill.label), std::nullopt};
}

}  // namespace

std::vector<double> even_spacings_mm(const Design& design, std::size_t pin) {
  std::vector<double> others;
  for (std::size_t i = 0; i < design.pins.size(); ++i)
    if (i != pin) others.push_back(design.pins[i].at_mm.x);
  std::ranges::sort(others);
  others.erase(std::unique(others.begin(), others.end()), others.end());

  std::vector<double> places;
  for (std::size_t i = 0; i + 1 < others.size(); ++i) {
    const double from = others[i];
    const double to = others[i + 1];
    places.push_back((from + to) / 2);
    // Repeating this gap on either side, as long as the new place is next to it.
    const double behind = to + (to - from);
    const double ahead = from - (to - from);
    if (i + 2 >= others.size() || behind < others[i + 2]) places.push_back(behind);
    if (i == 0 || ahead > others[i - 1]) places.push_back(ahead);
  }
  std::ranges::sort(places);
  return places;
}

std::vector<double> level_places_mm(const Design& design, std::size_t pin) {
  std::vector<double> found{0};
  for (std::size_t i = 0; i < design.pins.size(); ++i)
    if (i != pin) found.push_back(design.pins[i].at_mm.y);
  std::ranges::sort(found);
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

Edited move_pin(const Design& design, std::size_t pin, Vec2 to_mm, const PinPath& path) {
  if (pin >= design.pins.size()) return no_such("pin", pin, "");
  const Pin& before = design.pins[pin];
  if (!before.existing_tang_hole.empty())
    return Edited::refused(pin_name(design, pin) + " goes through " +
                           tang_hole_words(design, index_of(design.tang.holes, before.existing_tang_hole)) +
                           ", which the tang has already. Move that hole, or give the pin a hole of its "
                           "own first.");
  if (path.snap_within_mm > 0)
    to_mm = {edits::snapped(to_mm.x, even_spacings_mm(design, pin), path.snap_within_mm),
             edits::snapped(to_mm.y, level_places_mm(design, pin), path.snap_within_mm)};
  if (path.along_axis) to_mm.y = before.at_mm.y;
  Design edited = design;
  edited.pins[pin].at_mm = to_mm;
  return edited;
}

Edited add_pin(const Design& design, Vec2 at_mm) {
  const auto nearest = std::ranges::min_element(
      design.pins, {}, [&](const Pin& pin) { return glm::distance(pin.at_mm, at_mm); });
  const Pin pin = nearest == design.pins.end() ? first_pin(design.shown_unit) : *nearest;
  return with_copy(design, pin, at_mm, edits::free_name("pin", design.pins, design.pins.size() + 1));
}

Edited copy_pin(const Design& design, std::size_t pin, Vec2 at_mm, const std::string& name) {
  if (pin >= design.pins.size()) return no_such("pin", pin, "");
  const bool taken = std::ranges::find(design.pins, name, &Pin::name) != design.pins.end();
  return with_copy(design, design.pins[pin], at_mm, taken ? edits::free_name(name, design.pins, 2) : name);
}

Edited add_pin(const Design& design, const Handle& handle) {
  // Which pin will be the nearest is not known yet: room for the one with the widest hole is enough.
  double widest_mm = design.pins.empty() ? widest_hole_mm(first_pin(design.shown_unit)) : 0;
  for (const Pin& pin : design.pins) widest_mm = std::max(widest_mm, widest_hole_mm(pin));
  if (const auto place = roomiest_place_mm(design, handle, widest_mm)) return add_pin(design, *place);
  return Edited::refused(
      "there is no room for another pin on the axis; add it in the fold view where you want it");
}

Edited remove_pin(const Design& design, std::size_t pin) {
  if (pin >= design.pins.size()) return no_such("pin", pin, "");
  Design edited = design;
  edited.pins.erase(edits::at(edited.pins, pin));
  return edited;
}

Edited use_tang_hole(const Design& design, std::size_t pin, const std::string& hole) {
  const std::size_t there = index_of(design.tang.holes, hole);
  if (there == design.tang.holes.size())
    return Edited::refused("the tang has no hole with the id \"" + hole + "\"");
  return edits::change_entry(design, pins_in, pin, "pin", "", [&](Pin& changed) {
    changed.at_mm = design.tang.holes[there].at_mm;
    changed.existing_tang_hole = hole;
    changed.tang_hole = {};
  });
}

Edited drill_tang_hole(const Design& design, std::size_t pin) {
  return edits::change_entry(design, pins_in, pin, "pin", "", drill_own_tang_hole);
}

Edited drill_pin_holes(const Design& design, std::size_t pin, const HoleSize& hole) {
  return edits::change_entry(design, pins_in, pin, "pin", "", [&](Pin& changed) {
    changed.scale_hole = hole;
    if (is_given(changed.liner_hole)) changed.liner_hole = hole;
    if (changed.existing_tang_hole.empty() && changed.tang_hole.actual_mm() < hole.actual_mm())
      changed.tang_hole = hole;
  });
}

Edited open_scale_holes(const Design& design, std::size_t pin, const ListedDrill& drill) {
  return edits::change_entry(design, pins_in, pin, "pin", "", [&](Pin& changed) {
    open_up(changed.scale_hole, drill);
    open_up(changed.liner_hole, drill);
  });
}

Edited fit_thicker_pin(const Design& design, std::size_t pin, double stock_mm, const ListedDrill& drill) {
  const Edited opened = open_scale_holes(design, pin, drill);
  if (!opened) return opened;
  Design edited = *opened;
  Pin& changed = edited.pins[pin];
  changed.stock.nominal_mm = stock_mm;
  changed.stock.measured_mm.reset();
  open_up(changed.tang_hole, drill);
  if (const std::size_t hole = index_of(edited.tang.holes, changed.existing_tang_hole);
      hole < edited.tang.holes.size()) {
    double& diameter_mm = edited.tang.holes[hole].diameter_mm;
    diameter_mm = std::max(diameter_mm, drill.diameter_mm);
  }
  return edited;
}

}  // namespace haftwright
