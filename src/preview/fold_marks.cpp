#include "haftwright/preview/fold_marks.hpp"

#include <cmath>

#include "haftwright/edits/pins.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

constexpr double kSettled = 1e-9;  // mm: a place that was snapped to is met to rounding
constexpr double kPast = 4;        // mm: how far a line that something settled on reaches beyond the handle
constexpr int kMmDecimals = 2;     // what a caliper shows

Role zone_of(Status status) {
  static constexpr Role kZones[] = {Role::zone_pass, Role::zone_near, Role::zone_fail};
  return kZones[static_cast<std::size_t>(status)];
}

}  // namespace

Drawing draw_clear_zones(const Design& design, const FoldMap& map, const std::vector<Finding>& findings) {
  Drawing drawing;
  for (const Finding& finding : findings) {
    const auto index = pin_of(finding.where);
    if (finding.id != "hole.edge" || !index || !finding.place || *index >= design.pins.size()) continue;
    const Pin& pin = design.pins[*index];
    drawing.add(zone_of(finding.status),
                Circle{map.on_face(finding.place->z >= 0 ? Which::left : Which::right, pin.at_mm),
                       {.mm = pin.scale_hole.actual_mm() / 2 + finding.limit}});
  }
  return drawing;
}

Dimension stretch_dimension(const FoldMap& map, const FoldStretch& stretch) {
  const Vec2 from = map.to_drawing(stretch.from);
  const Vec2 to = map.to_drawing(stretch.to);
  if (stretch.from.region != FoldRegion::edge_strip) return aligned_dimension(from, to, {}, "");
  return level_dimension(from, to, map.on_strip(stretch.from.x_mm, 0), {}, "");
}

Drawing draw_neighbours(const Design& design, const FoldMap& map, std::size_t pin, Which face) {
  Drawing drawing;
  if (pin >= design.pins.size()) return drawing;
  const Vec2 at = design.pins[pin].at_mm;
  const Pin* ahead = nullptr;
  const Pin* behind = nullptr;
  for (const Pin& other : design.pins) {
    const double x = other.at_mm.x;
    if (x < at.x && (!ahead || x > ahead->at_mm.x)) ahead = &other;
    if (x > at.x && (!behind || x < behind->at_mm.x)) behind = &other;
  }
  for (const Pin* other : {ahead, behind}) {
    if (!other) continue;
    const Vec2 from = map.on_face(face, at);
    drawing.add(Role::chosen_dimension, level_dimension(from, {other->at_mm.x, from.y}, from, {},
                                                        fine_length(std::abs(other->at_mm.x - at.x),
                                                                    design.shown_unit, kMmDecimals)));
  }
  return drawing;
}

Drawing draw_settled(const Design& design, const FoldMap& map, const Bounds& handle, std::size_t pin) {
  Drawing drawing;
  if (pin >= design.pins.size()) return drawing;
  const Vec2 at = design.pins[pin].at_mm;
  const Vec2 low = handle.low - kPast;
  const Vec2 high = handle.high + kPast;
  for (const double x : even_spacings_mm(design, pin))
    if (std::abs(x - at.x) < kSettled) drawing.add(Role::alignment, straight({x, low.y}, {x, high.y}));
  for (const double y : level_places_mm(design, pin))
    if (std::abs(y - at.y) < kSettled)
      for (const Which face : {Which::left, Which::right})
        drawing.add(Role::alignment, straight(map.on_face(face, {low.x, y}), map.on_face(face, {high.x, y})));
  return drawing;
}

}  // namespace haftwright
