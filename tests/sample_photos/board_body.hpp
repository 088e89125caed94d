// An offcut as a body that the room render draws, and how it lies under a camera.
#pragma once

#include "haftwright/offcuts/bin.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright::test {

/// How an offcut lies on the card at z = 0: turned, moved, that face up.
struct Laid {
  Face up = Face::upper;
  double turn_deg = 0;
  Vec2 at_mm{0, 0};  ///< of the offcut's origin
  double thickness_mm = 0;

  /// From the offcut's frame (z from its lower face up) to the card's.
  Vec3 place(Vec3 in_offcut) const;
  Vec3 direction(Vec3 in_offcut) const;
  /// The offcut's x and y of what lies at a place of its upward face.
  Vec2 in_offcut(Vec2 on_card) const;
};

/// A closed mesh: both faces with openings for the round holes that lie inside the outline, and all walls.
/// Slices of one block come out of one block of grain.
Body board_body(const Bin& bin, const Offcut& offcut, const Laid& laid);

}  // namespace haftwright::test
