// Pieces and offcuts as a problem of placing shapes, and its answer turned back.
#pragma once

#include <vector>

#include "boards.hpp"
#include "fibres.hpp"
#include "haftwright/cutting/plan.hpp"
#include "haftwright/nesting/problem.hpp"

namespace haftwright::cutting {

/// A piece in a part of a way: which, and how it lies.
struct LaidPiece {
  std::size_t need = 0;
  Lie lie;
  Half half = Half::whole;
  Vec2 centre_mm{0, 0};  ///< the place of the piece's frame that the shape's origin stands for
};
/// For each part of a way the pieces that come out of it: one, or the two halves of a book.
struct WayMeaning {
  Pairing pairing = Pairing::single;
  std::vector<std::vector<LaidPiece>> parts;
};

struct WoodProblem {
  nesting::Problem problem;
  Boards boards;
  std::vector<std::vector<WayMeaning>> meaning;  ///< by demand and way
  std::vector<std::vector<std::size_t>> needs;   ///< by demand: the pieces that it serves
};

/// The pieces of `needs` that are to be planned, mates as one demand each.
WoodProblem wood_problem(const Needs& needs, const Bin& bin, const ShopRules& rules,
                         const CuttingWishes& wishes);

/// The design's rules and the person's wishes, as those of the saw.
nesting::Rules saw_rules(const ShopRules& rules, const CuttingWishes& wishes);

/// The piece as it may lie on one offcut: none where it is too thin, of other wood, or shows a face that it
/// should not.
std::optional<nesting::Candidate> candidate(const PieceNeed& need, const Offcut& offcut, const Lie& lie,
                                            const ShopRules& rules);

/// An outline as the shape that is placed: about the middle of its box, mirrored where it lies so, and
/// written so that two that are alike are equal.
nesting::Polygon laid_shape(const std::vector<Vec2>& outline, bool mirrored);

/// Counter-clockwise, whichever way the blank lies.
std::vector<Vec2> outline_as_placed(const std::vector<Vec2>& outline, const PlacedBlank& placed);

std::vector<BoardUse> offcuts_of(const nesting::Plan& plan, const WoodProblem& wood, const Needs& needs,
                                 const Bin& bin, const ShopRules& rules);

}  // namespace haftwright::cutting
