// The parts of one side - liners, pieces, spacer strips - and the faces they are glued at.
#pragma once

#include "side_input.hpp"

namespace haftwright::layout {

/// A joint's face as laid out: where it is, what it looks like.
struct Face {
  Interface where;
  PlaneSection section;
};

/// What liners, parts and bonds are made from.
struct SideGeometry {
  const SideInput& input;
  const ScaleBody& body;
  const Outline& finished;
  const PlaneSection& front_section;
  const std::vector<Face>& faces;  ///< front to rear
};

std::vector<Part> make_liners(const SideGeometry& side);
/// Pieces and spacer strips, front to rear. Refuses those that hold nothing.
std::vector<Part> make_pieces(const SideGeometry& side);
/// `joints` gives the areas of the joint faces.
std::vector<Bond> make_bonds(const SideGeometry& side, const std::vector<Part>& parts,
                             const std::vector<JointLayout>& joints);

}  // namespace haftwright::layout
