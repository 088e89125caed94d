#include "slabs.hpp"

#include <algorithm>

#include "haftwright/nesting/places.hpp"

namespace haftwright::cutting {
namespace {

/// Whether the least leftover there is has a place on it, along the offcut.
bool holds_leftover(const nesting::Polygon& outline, const ShopRules& rules) {
  const Vec2 half = Vec2{rules.leftover_length_mm, rules.leftover_width_mm} / 2.0;
  const nesting::Polygon least{-half, {half.x, -half.y}, half, {-half.x, half.y}};
  return nesting::fits({.outline = outline}, least, {0, 0}, {}, {}).answer == nesting::Answer::yes;
}

/// The lower half of the book of this shape.
const PlacedBlank* lower_half(const BoardUse& use, std::size_t shape) {
  const auto found = std::ranges::find_if(use.blanks, [&](const PlacedBlank& blank) {
    return blank.shape == shape && blank.half == Half::lower;
  });
  return found == use.blanks.end() ? nullptr : &*found;
}

}  // namespace

std::vector<Slab> slabs_of(const BoardUse& use, const Needs& needs, const Offcut& offcut,
                           const ShopRules& rules) {
  std::vector<Slab> slabs;
  for (const PlacedBlank& upper : use.blanks) {
    if (upper.pairing != Pairing::book || upper.half != Half::upper) continue;
    const PlacedBlank* const lower = lower_half(use, upper.shape);
    if (!lower) continue;
    const double first = needs.pieces[upper.need].thickness_mm;
    const double second = needs.pieces[lower->need].thickness_mm;
    const double left = offcut.thickness_mm - first - second - 2 * rules.saw_kerf_mm;
    if (left < std::min(first, second)) continue;
    nesting::Polygon outline = upper.outline;
    outline.insert(outline.end(), lower->outline.begin(), lower->outline.end());
    outline = nesting::placed_outline(outline, {0, 0}, 0);
    if (!holds_leftover(outline, rules)) continue;
    const bool sawn_faces_show = upper.lower_face;
    slabs.push_back({upper.shape, left, std::move(outline), sawn_faces_show ? lower_face : no_face});
  }
  return slabs;
}

}  // namespace haftwright::cutting
