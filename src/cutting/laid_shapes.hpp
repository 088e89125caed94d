// Blanks as shapes to be placed: one by itself, or the two that are sawn out as one, and whether a board
// serves for them.
#pragma once

#include <optional>
#include <vector>

#include "boards.hpp"
#include "fibres.hpp"
#include "haftwright/cutting/plan.hpp"

namespace haftwright::cutting {

/// A piece in a part of a way: which, and how it lies.
struct LaidPiece {
  std::size_t need = 0;
  Lie lie;
  Half half = Half::whole;
  Vec2 centre_mm{0, 0};  ///< the place of the piece's frame that the shape's origin stands for
};

/// What is sawn out as one, whatever board it comes from.
struct LaidShape {
  Pairing pairing = Pairing::single;  ///< single, book or slices
  nesting::Polygon shape;
  std::vector<LaidPiece> pieces;  ///< one, or the two halves of a book
};
LaidShape single_shape(const Needs& needs, std::size_t need, bool lower_face);
/// Both from one blank. `mirrored`: the left piece's outer face looks down.
LaidShape book_shape(const Needs& needs, const Mates& mates, bool mirrored, bool from_slices,
                     bool shows_outside);

/// That which a placed blank is sawn out as; both halves of a book give the same.
LaidShape shape_of(const Needs& needs, const PlacedBlank& blank);

/// The mates that a need is one of.
std::optional<Mates> mates_of(const Needs& needs, std::size_t need);

/// "left front piece", "left front piece and right front piece".
std::string names_of(const LaidShape& laid, const Needs& needs);

/// Whether a board serves for a shape, wherever it would lie there. Turns are another matter.
struct Fitness {
  enum class What { fits, other_wood, too_thin, hidden_face };
  What what = What::fits;
  double short_mm = 0;   ///< too_thin: what it lacks
  double excess_mm = 0;  ///< fits: thickness that is wasted
};
Fitness fitness_of(const LaidShape& laid, const Needs& needs, const Bin& bin, const Board& board,
                   const ShopRules& rules, const CuttingWishes& wishes);

/// Turns that the grain of each of its pieces allows.
std::vector<nesting::Angles> turns_of(const LaidShape& laid, const Needs& needs, const Offcut& offcut,
                                      const ShopRules& rules);

/// An outline as the shape that is placed: about the middle of its box, mirrored where it lies so, and
/// written so that two that are alike are equal.
nesting::Polygon laid_shape(const std::vector<Vec2>& outline, bool mirrored);

/// Counter-clockwise, whichever way the blank lies.
std::vector<Vec2> outline_as_placed(const std::vector<Vec2>& outline, const PlacedBlank& placed);

/// A piece of a shape whose origin lies at a place.
PlacedBlank placed_blank(const Needs& needs, const LaidPiece& laid, Vec2 at_mm, double turn_deg,
                         Pairing pairing);

}  // namespace haftwright::cutting
