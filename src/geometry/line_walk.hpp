// Where an endless line passes through an outline, decided once for all who cut with it.
#pragma once

#include <vector>

#include "chain_parts.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

/// A place where the boundary meets the line. Where it runs along the line, `first` and `last` are the ends
/// of that stretch; else they are one place. `before` and `after` are the sides it comes from and goes to: -1
/// where dot(normal, p) < limit, +1 where it is greater.
struct LineContact {
  Place first;
  Place last;
  int before = 0;
  int after = 0;
  bool passes() const { return before != after; }
};

struct LineWalk {
  std::vector<LineContact> contacts;  ///< in the order of the chain
  int side = 0;                       ///< of some place of the outline off the line; with no contacts: of all
};

/// Walks round the outline past the line dot(unit_normal, p) = limit. Nodes within kSamePlace_mm of the line
/// count as on it.
LineWalk walk_past_line(const Outline& outline, Vec2 unit_normal, double limit);

}  // namespace haftwright::geometry
