#include "placed_edges.hpp"

#include <glm/trigonometric.hpp>

#include <cmath>

namespace haftwright::cutting {

Vec2 direction_in_need(Vec2 on_board, const PlacedBlank& placed) {
  const double turn = -glm::radians(placed.turn_deg);
  const Vec2 back{on_board.x * std::cos(turn) - on_board.y * std::sin(turn),
                  on_board.x * std::sin(turn) + on_board.y * std::cos(turn)};
  return {placed.mirrored ? -back.x : back.x, back.y};
}

std::string words_of_edge(Vec2 from, Vec2 to, const PlacedBlank& placed) {
  const Vec2 outward = direction_in_need(-turned_left(to - from), placed);
  if (std::abs(outward.x) > std::abs(outward.y)) return outward.x < 0 ? "front end" : "rear end";
  return outward.y > 0 ? "spine edge" : "belly edge";
}

}  // namespace haftwright::cutting
