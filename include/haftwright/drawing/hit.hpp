// What lies under a point of a drawing.
#pragma once

#include <cstddef>
#include <optional>

#include "haftwright/drawing/drawing.hpp"

namespace haftwright {

/// How far a point is from an item: 0 inside circles, areas and texts, else to the nearest place of it.
double distance_mm(const Shape& shape, Vec2 point, double mm_per_point);

/// The tagged item at a point, as an index into Drawing::items. Lines, circles, texts and dimensions no
/// farther than `reach_mm` go before areas: of those the nearest, of equals the one on top. Areas count only
/// where the point lies in them, the one on top first. Nothing where there is none.
std::optional<std::size_t> item_at(const Drawing& drawing, Vec2 point, double reach_mm, double mm_per_point);

}  // namespace haftwright
