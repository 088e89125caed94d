#pragma once

#include <optional>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

/// Two edges of a closed chain that cross or touch elsewhere than at the node they share.
std::optional<OutlineFault> find_meeting(const std::vector<Edge>& edges);

}  // namespace haftwright::geometry
