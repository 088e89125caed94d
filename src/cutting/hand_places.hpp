// The places that the maker chose by hand, held against the bin: shapes that lie where they lie, and why
// others can't.
#pragma once

#include <optional>
#include <vector>

#include "boards.hpp"
#include "haftwright/cutting/plan.hpp"
#include "haftwright/nesting/places.hpp"
#include "laid_shapes.hpp"

namespace haftwright::cutting {

/// The words for what may lie in the way: each keep-out of a stock, and each obstacle.
struct Hindrances {
  std::vector<std::string> defects;
  std::vector<std::string> blanks;
};
/// "a knot (defect 2 of thwart)", for each keep-out of that board's stock.
std::vector<std::string> defect_names(const Bin& bin, const Board& board);

/// What keeps a shape from a place on a board: the rim, a defect, another blank; empty where it may lie
/// there.
std::string in_the_way_words(const LaidShape& laid, const nesting::Place& place, const nesting::Stock& stock,
                             const nesting::Rules& rules, std::span<const nesting::Obstacle> obstacles,
                             const Hindrances& names);

/// A blank, or a book of two, that lies where the maker put it.
struct HandLaid : LaidShape {
  std::size_t place = 0;  ///< of Design::hand_places
  std::size_t stock = 0;  ///< of Boards
  nesting::Place at;
};
struct HandPlaces {
  std::vector<HandLaid> laid;
  std::vector<PlaceNotKept> not_kept;
};
/// The need that the place is of; none where the piece is gone.
std::optional<std::size_t> need_of(const Design& design, const Needs& needs, const HandPlace& place);
HandPlaces hand_places(const Design& design, const Needs& needs, const Bin& bin, const Boards& boards,
                       const CuttingWishes& wishes);

/// As a place by hand cuts it; none where it is to be cut with a mate that there is not.
std::optional<LaidShape> shape_by_hand(const Needs& needs, std::size_t need, const HandPlace& place,
                                       const CuttingWishes& wishes);
/// Finds the stock that a place by hand means; why there is none for it, empty where there is.
std::string board_by_hand(const Design& design, const Needs& needs, const Bin& bin, const Boards& boards,
                          const CuttingWishes& wishes, const HandPlace& place, const LaidShape& laid,
                          std::size_t& stock);

}  // namespace haftwright::cutting
