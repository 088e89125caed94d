// How a material lies in a part.
#pragma once

#include "haftwright/handle/handle.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright::preview {

/// Of a piece: the fibre turned in the face and dipped out of it; with no turn of the rings they lie flat in
/// the face. Equal numbers on both sides are mirror images, as sawn from one block and opened like a book.
GrainFrame piece_grain(const Grain& grain, const Part& part);
/// Of a strip between the pieces: its fibre runs along the joint, its layers lie in the joint's plane.
GrainFrame spacer_grain(const Part& part);
GrainFrame liner_grain(const Part& part);

}  // namespace haftwright::preview
