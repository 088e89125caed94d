// Filling shapes that are not convex, which Dear ImGui's draw lists can't.
#pragma once

#include <cstdint>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::app {

/// Triangles (three indices each) that fill a simple closed loop, by cutting ears.
std::vector<std::uint32_t> triangulate(const std::vector<Vec2>& loop);

}  // namespace haftwright::app
