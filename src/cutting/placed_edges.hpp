// Edges of a blank by name, wherever it lies.
#pragma once

#include <string>

#include "haftwright/cutting/plan.hpp"

namespace haftwright::cutting {

/// A direction of the board in the need's frame.
Vec2 direction_in_need(Vec2 on_board, const PlacedBlank& placed);
/// "front end", "rear end", "spine edge" or "belly edge", for an edge that is run along counter-clockwise.
std::string words_of_edge(Vec2 from, Vec2 to, const PlacedBlank& placed);

}  // namespace haftwright::cutting
