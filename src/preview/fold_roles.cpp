#include "fold_roles.hpp"

namespace haftwright::preview {

/// On a face, and on the strip, where things are seen edge-on and holes through the material.
Role role_of(const FoldThing& thing) {
  const bool strip = thing.region == FoldRegion::edge_strip;
  switch (thing.kind) {
    case FoldKind::area:
      return Role::material;
    case FoldKind::axis:
      return Role::centre_line;
    case FoldKind::tang_outline:
      return Role::hidden_edge;
    case FoldKind::finished_outline:
      return Role::visible_edge;
    case FoldKind::cutout:
      return strip ? Role::cutout_inside : Role::cutout;
    case FoldKind::joint:
    case FoldKind::front:
      return Role::joint_line;
    case FoldKind::joint_inner:
    case FoldKind::front_inner:
      return Role::hidden_joint_line;
    case FoldKind::layer:
    case FoldKind::round_over_rim:
      return Role::soft_edge;
    case FoldKind::crest:
      return Role::contour;
    case FoldKind::link:
      return Role::projection_line;
    case FoldKind::pin:
      return strip ? Role::pin_inside : Role::pin;
    case FoldKind::pin_bore:
      return strip ? Role::pin_bore_inside : Role::pin_bore;
    case FoldKind::scale_hole:
      return strip ? Role::hole_inside : Role::hole;
    case FoldKind::liner_hole:
      return strip ? Role::hole_inside : Role::inner_hole;
    case FoldKind::tang_hole:
      return strip ? Role::hole_inside : Role::steel_hole;
    case FoldKind::existing_hole:
      return strip ? Role::given_hole_inside : Role::given_hole;
    case FoldKind::caption:
      break;
  }
  return Role::caption;
}

}  // namespace haftwright::preview
