// Four-sided areas on a picture.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "edge_search.hpp"

namespace haftwright::pictures {

using Quad = std::array<Vec2, 4>;

/// The largest quadrilateral with its corners among those of a convex shape; nothing with fewer than four.
std::optional<Quad> largest_quad(const std::vector<Vec2>& hull);

struct QuadFit {
  Quad corners{};
  double sides_seen = 0;
  double stray_px = 0;
};
/// Moves each side to the edge seen near it, within `reach_px`: outward it gets lighter (`lighter_outside`)
/// or darker. `quad` runs clockwise as seen. Nothing where a side is not seen or the sides do not meet.
std::optional<QuadFit> fitted_quad(const LightReader& light, const Quad& quad, double reach_px,
                                   bool lighter_outside);

/// Whether a camera may see a rectangle so, not too flatly: convex, no angle under 35 degrees, opposite sides
/// no more than 1 to 3.
bool may_be_rectangle(const Quad& quad);

}  // namespace haftwright::pictures
