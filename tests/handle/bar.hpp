// A handle simple enough to be computed by hand, and short ways to its parts.
#pragma once

#include <algorithm>
#include <optional>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/handle/volumes.hpp"

namespace haftwright::test {

/// A 100 x 20 mm bar of steel with 10 mm more ahead of the front face, flat sides 8 mm thick with sharp
/// edges, no liners, two pieces parted at x = 40, no pins.
inline Design bar() {
  Design design = starter_design({{{-10, -10}, 0}, {{100, -10}, 0}, {{100, 10}, 0}, {{-10, 10}, 0}}, 4,
                                 LengthUnit::millimetre);
  design.pins.clear();
  design.left.liners.clear();
  design.left.joints[0] = {40, 0, 0, {}};
  design.left.finish = {{{0, 8}}, std::nullopt, 0, 0};
  return design;
}

/// Pin holes of one diameter all through.
inline Pin pin_at(Vec2 at, double pin_mm, double hole_mm) {
  Pin pin;
  pin.name = "a";
  pin.at_mm = at;
  pin.stock.nominal_mm = pin_mm;
  pin.scale_hole.diameter_mm = pin.liner_hole.diameter_mm = pin.tang_hole.diameter_mm = hole_mm;
  return pin;
}

inline const Part& part(const SideLayout& side, PartKind kind, std::size_t index) {
  return *std::ranges::find_if(side.parts, [&](const Part& p) { return p.kind == kind && p.index == index; });
}

/// Of a part of the left side.
inline PartVolume volume(const Design& design, PartKind kind, std::size_t index) {
  const Handle handle = lay_out(design);
  const Part& found = part(handle.left, kind, index);
  const auto place = static_cast<std::size_t>(&found - handle.left.parts.data());
  return volumes_of(design, handle).left.parts[place];
}

inline double piece_mm3(const Design& design, std::size_t index) {
  return volume(design, PartKind::piece, index).whole_mm3;
}

/// Pieces and strips of the left side together.
inline double scale_mm3(const Design& design) {
  return volumes_of(design, lay_out(design)).left.scale_mm3;
}

inline double steel_mm3(const Design& design) {
  return volumes_of(design, lay_out(design)).tang_mm3;
}

/// What the holes take out of all parts of the left side together.
inline double drilled_mm3(const Design& design) {
  double sum = 0;
  for (const PartVolume& part : volumes_of(design, lay_out(design)).left.parts) sum += part.drilled_mm3;
  return sum;
}

}  // namespace haftwright::test
