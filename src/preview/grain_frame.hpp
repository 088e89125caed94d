// How a material lies in a part.
#pragma once

#include "haftwright/handle/handle.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright::preview {

/// Along the fibre, and square to it from ring to ring, in the frame that the grain is given in: z out of the
/// face that is looked at.
struct GrainAxes {
  Vec3 fibre{1, 0, 0};
  Vec3 radial{0, 0, 1};
};
GrainAxes axes_of(const Grain& grain);

/// Of a piece: the fibre turned in the face and dipped out of it; with no turn of the rings they lie flat in
/// the face. Equal numbers on both sides are mirror images, as sawn from one block and opened like a book.
GrainFrame piece_grain(const Grain& grain, const Part& part);
/// Of a strip between the pieces: its fibre runs along the joint, its layers lie in the joint's plane.
GrainFrame spacer_grain(const Part& part);
GrainFrame liner_grain(const Part& part);

}  // namespace haftwright::preview
