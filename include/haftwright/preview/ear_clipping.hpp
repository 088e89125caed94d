// Triangles over a few loops in one plane, by clipping ears (D. H. Eberly, "Triangulation by Ear Clipping",
// 2008; holes are joined to the loop round them by a bridge).
//
// Uses every edge of every loop exactly once, whatever the loops look like, so that a body stays closed even
// where rounding lets a loop touch itself.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright {

/// A loop of corners; `at` are their places in the plane.
struct FlatLoop {
  std::vector<std::uint32_t> corner;
  std::vector<Vec2> at;
};

/// Outer loops run counter-clockwise, loops round openings clockwise; so do the triangles' edges.
std::vector<std::array<std::uint32_t, 3>> clip_ears(std::vector<FlatLoop> loops);

/// Fills one loop, whichever way it runs, around its openings: corners are counted through the loop and then
/// through the openings, one after the other.
std::vector<std::array<std::uint32_t, 3>> fill(const std::vector<Vec2>& loop,
                                               const std::vector<std::vector<Vec2>>& openings = {});

}  // namespace haftwright
