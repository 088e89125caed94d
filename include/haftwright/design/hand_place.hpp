// A place that the maker chose for a blank on an offcut, so that plans go round it.
#pragma once

#include <string>

#include "haftwright/design/sides.hpp"
#include "haftwright/geometry/vec.hpp"

namespace haftwright {

/// Of an offcut, looked at from above.
enum class Face { upper, lower };

/// What is sawn at a place that was chosen by hand.
enum class HandCut {
  single,  ///< the one blank
  book,    ///< it and its mate's, as the two halves of one thick blank
  slices   ///< it and its mate's, at the same place of two neighbouring slices
};

/// Refers to the piece by its side and id and to the offcut by its id in the bin; either may be gone. Says
/// where the middle of the box round the blank lies (of a book or slices: round both blanks as they lie on
/// each other in the handle), so that a blank that changes its size grows or shrinks about there.
struct HandPlace {
  Which side = Which::left;
  std::string piece;        ///< its id on that side
  std::string offcut;       ///< of slices the upper one, which has the lower number
  int copy = 1;             ///< which of those alike, from 1
  Vec2 at_mm{0, 0};         ///< in the offcut's frame
  double turn_deg = 0;      ///< counter-clockwise, from the handle's x along the offcut's, after mirroring
  Face face = Face::upper;  ///< the offcut's, that the piece's outer face is cut toward
  HandCut cut = HandCut::single;
  bool operator==(const HandPlace&) const = default;
};

}  // namespace haftwright
