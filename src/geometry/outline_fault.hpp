#pragma once

#include <optional>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

/// Two edges of a closed chain that cross or touch elsewhere than at the node they share.
std::optional<OutlineFault> find_meeting(const std::vector<Edge>& edges);

/// The chain with arcs of negligible sagitta as the straight lines they pass for. Needs finite numbers.
std::vector<Node> straightened(std::vector<Node> chain);

}  // namespace haftwright::geometry
