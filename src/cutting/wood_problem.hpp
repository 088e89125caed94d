// Pieces and offcuts as a problem of placing shapes, and its answer turned back.
#pragma once

#include <vector>

#include "boards.hpp"
#include "haftwright/cutting/plan.hpp"
#include "haftwright/nesting/problem.hpp"
#include "hand_places.hpp"

namespace haftwright::cutting {

/// For each part of a way the pieces that come out of it: one, or the two halves of a book.
struct WayMeaning {
  Pairing pairing = Pairing::single;
  std::vector<std::vector<LaidPiece>> parts;
  bool by_hand = false;
};

struct WoodProblem {
  nesting::Problem problem;
  Boards boards;
  std::vector<std::vector<WayMeaning>> meaning;  ///< by demand and way
  std::vector<std::vector<std::size_t>> needs;   ///< by demand: the pieces that it serves
  std::vector<PlaceNotKept> not_kept;
};

/// The pieces of `needs` that are to be planned, mates as one demand each. Pieces with a place by hand are
/// demands by themselves, fixed there, and so are their mates.
WoodProblem wood_problem(const Design& design, const Needs& needs, const Bin& bin,
                         const CuttingWishes& wishes);

/// The design's rules and the person's wishes, as those of the saw.
nesting::Rules saw_rules(const ShopRules& rules, const CuttingWishes& wishes);

std::vector<BoardUse> offcuts_of(const nesting::Plan& plan, const WoodProblem& wood, const Needs& needs,
                                 const Bin& bin, const ShopRules& rules);

}  // namespace haftwright::cutting
