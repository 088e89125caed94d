// Where an endless line passes through an outline, decided once for all who cut with it.
#pragma once

#include <vector>

#include "chain_parts.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// A passage from one side of the line to the other, in the order of the chain. Where the boundary runs along
/// the line on its way through, `first` and `last` are the ends of that stretch; else they are one place.
struct Passage {
  Place first;
  Place last;
  bool to_positive = false;  ///< from dot(normal, p) < limit to dot(normal, p) > limit
};

struct LineWalk {
  std::vector<Passage> passages;  ///< an even number, alternating in direction
  int side = 0;                   ///< with no passages: the side (+1, -1) the outline lies on
};

/// Walks round the outline past the line dot(unit_normal, p) = limit. Nodes within kSamePlace_mm of the line
/// count as on it; touching without passing through is no passage.
LineWalk walk_past_line(const Outline& outline, Vec2 unit_normal, double limit);

}  // namespace haftwright
