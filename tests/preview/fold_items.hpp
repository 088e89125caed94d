// Items of the fold view's drawing, found by what they show.
#pragma once

#include <vector>

#include "haftwright/preview/fold.hpp"

namespace haftwright::test {

/// A line, circle or area with what it shows; points along it, flattened to 0.0005 mm.
struct FoldItem {
  const FoldThing* thing = nullptr;
  const Item* item = nullptr;
  std::vector<Vec2> points;  ///< of an area: its outer loop; of a circle: its centre
  double radius_mm = 0;      ///< of a circle
};

inline FoldItem fold_item(const FoldDrawing& fold, std::size_t i) {
  constexpr double kTolerance = 0.0005;
  FoldItem found{&fold.things.at(i), &fold.drawing.items.at(i), {}, 0};
  if (const auto* stroke = std::get_if<Stroke>(&found.item->shape))
    found.points = flattened(*stroke, kTolerance);
  if (const auto* fill = std::get_if<Fill>(&found.item->shape))
    found.points = flattened(Stroke{fill->loops.at(0), true}, kTolerance);
  if (const auto* circle = std::get_if<Circle>(&found.item->shape)) {
    found.points = {circle->centre};
    found.radius_mm = circle->radius.mm;
  }
  return found;
}

/// Of one kind, on the faces or on the strip, in their order.
inline std::vector<FoldItem> fold_items(const FoldDrawing& fold, FoldKind kind, bool strip) {
  std::vector<FoldItem> found;
  for (std::size_t i = 0; i < fold.things.size(); ++i)
    if (fold.things[i].kind == kind && (fold.things[i].region == FoldRegion::edge_strip) == strip)
      found.push_back(fold_item(fold, i));
  return found;
}

}  // namespace haftwright::test
