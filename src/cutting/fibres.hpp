// How a piece may be turned on an offcut so that the fibre runs in it as the project asks.
#pragma once

#include <vector>

#include "haftwright/design/design.hpp"
#include "haftwright/nesting/problem.hpp"

namespace haftwright::cutting {

/// How a blank lies on an offcut: which side's piece it is, and which way the face that shows looks.
struct Lie {
  Which side = Which::left;
  bool lower_face = false;
  /// As seen from above: the right side's frame is a mirror image of what one sees of it, and what is seen
  /// from below is mirrored again.
  bool mirrored() const { return (side == Which::right) != lower_face; }
};

/// Turns (after mirroring, if it is) that bring the piece's grain to within `most_off_deg` of the offcut's,
/// both dips counted; none where the dips alone differ by more. A fibre has two ends, so each comes twice,
/// half a turn apart, where the dips allow it.
std::vector<nesting::Angles> turns(const Grain& piece, const Grain& offcut, const Lie& lie,
                                   double most_off_deg);

/// Turns that are among both.
std::vector<nesting::Angles> common_turns(const std::vector<nesting::Angles>& a,
                                          const std::vector<nesting::Angles>& b);

/// How far the fibre of the offcut runs off the piece's grain where it lies, in space, degrees.
double fibre_off_deg(const Grain& piece, const Grain& offcut, const Lie& lie, double turn_deg);

}  // namespace haftwright::cutting
