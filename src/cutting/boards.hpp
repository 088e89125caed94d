// The bin's offcuts and sheets as stocks to place shapes on.
#pragma once

#include <optional>
#include <vector>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/nesting/problem.hpp"

namespace haftwright::cutting {

/// What a stock of the problem is in the bin.
struct Board {
  std::size_t index = 0;  ///< of Bin::offcuts or Bin::sheets
  std::size_t copy = 0;
  std::optional<std::size_t> with_slice;  ///< two slices as one stock: the other offcut
};

struct Boards {
  std::vector<Board> boards;  ///< one for each stock, in its order
  std::vector<nesting::Stock> stocks;
};

/// Chords of arcs leave them by no more than this; the rim and the margins are widened by as much.
inline constexpr double kChordMm = 0.01;

/// Points of a closed chain, no two the same.
std::vector<Vec2> corners(const std::vector<Node>& chain);

/// All offcuts of the given materials that are free for `project`, no more of those alike than `most_each`;
/// pairs of neighbouring slices after them, as boards of their own which exclude the slices themselves.
Boards wood_boards(const Bin& bin, const std::vector<std::string>& materials, const std::string& project,
                   std::size_t most_each, const ShopRules& rules);
/// The same of sheets.
Boards sheet_boards(const Bin& bin, const std::string& project, std::size_t most_each);

}  // namespace haftwright::cutting
