// What follows from a Design: every part of the handle with its place and faces. Volumes: volumes.hpp.
//
// Derived by lay_out, never edited, never saved. Points are in the handle's frame (see design.hpp) unless
// they are marked (x, y, s), s being the height above the inner face of the side's pieces.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "haftwright/design/design.hpp"
#include "haftwright/geometry/height_field.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// The plane x = x0 + y tan(slant) + s tan(rake): a joint face, a spacer's face, the front face.
struct CutPlane {
  double x0_mm = 0;
  double tan_slant = 0;
  double tan_rake = 0;

  double x_at(double y, double s) const { return x0_mm + y * tan_slant + s * tan_rake; }
  /// How far (x, y, s) lies behind the plane, along x.
  double behind_mm(double x, double y, double s) const { return x - x_at(y, s); }
  /// By how much x0_mm grows when the plane moves 1 mm square to itself in space, on a side whose inner face
  /// slopes by `base_slope` (dz/dx outward, as SurfaceShape's).
  double x0_per_mm(double base_slope) const;
  bool operator==(const CutPlane&) const = default;
};

/// Where a joint line meets the edge of the handle (spine or belly).
struct LineEnd {
  Vec3 inner{0, 0, 0};  ///< on the inner face of the pieces
  Vec3 outer{0, 0, 0};  ///< where the line on the finished surface reaches the edge: the top of the side wall
  double outer_s_mm = 0;  ///< s of `outer`
};

/// One line on the finished surface: a joint without spacers has one, a joint with n strips n + 1.
struct JointLine {
  CutPlane plane;
  LineEnd spine;
  LineEnd belly;
  std::vector<Vec3> on_surface;  ///< belly to spine, exact points, at most 1 mm apart
  double face_area_mm2 = 0;      ///< true area of the cut face, holes not taken out
  double drilled_area_mm2 = 0;   ///< what pin holes take out of that face
};

struct JointLayout {
  std::size_t joint = 0;
  std::vector<JointLine> lines;  ///< front to rear
};

enum class PartKind { liner, piece, spacer };

/// A liner, piece or spacer strip of one side.
struct Part {
  PartKind kind = PartKind::piece;
  Which side = Which::left;
  std::size_t index = 0;  ///< liner: from the tang outward; piece: front to rear; spacer: within its joint
  std::size_t joint = 0;  ///< spacers only
  std::string name;       ///< "left front piece", "right liner 1", "left joint 1 spacer 2"
  std::string material;
  CutPlane front;        ///< pieces and spacers; for a liner the scale's front face carried down to it
  CutPlane rear;         ///< pieces and spacers but the last piece
  bool to_butt = false;  ///< no rear plane: runs to the butt (last piece, liners)
  double s_low_mm = 0;   ///< liners: negative, s of its inner face; pieces and spacers: 0
  double s_high_mm = 0;  ///< liners: s of its outer face; pieces and spacers: greatest finished height
  std::vector<Outline> inner_face;  ///< plan of the face toward the tang; exact
  double inner_face_area_mm2 = 0;   ///< in plan
  Bounds plan_bounds;               ///< of the whole part, all heights
};

/// A pin hole through one layer of one side, or through the tang.
struct HoleLayer {
  enum class Kind { scale, liner, tang };
  Kind kind = Kind::scale;
  Which side = Which::left;  ///< not for the tang
  std::size_t liner = 0;     ///< liners only
  double diameter_mm = 0;
  double z_from_mm = 0;  ///< along the axis, lower z first
  double z_to_mm = 0;
  /// The rim on the layer's tang-side face (left face for the tang), a true ellipse where the tang is
  /// tapered.
  Vec3 rim_centre{0, 0, 0};
  double rim_semi_major_mm = 0;  ///< along the taper
  double rim_semi_minor_mm = 0;
  double length_mm() const { return z_to_mm - z_from_mm; }
};

struct PinLayout {
  std::size_t pin = 0;
  Vec2 at{0, 0};
  double diameter_mm = 0;         ///< measured stock
  std::vector<HoleLayer> layers;  ///< right scale to left scale, in order of z
  double length_mm = 0;           ///< finished surface to finished surface at the axis
};

/// A glued face.
struct Bond {
  enum class Kind {
    tang,
    liner,
    piece,
    joint
  };  ///< tang-liner (or tang-piece), liner-liner, liner-piece, joint face
  Kind kind = Kind::tang;
  Which side = Which::left;
  std::string name;     ///< "left tang to liner 1"
  double area_mm2 = 0;  ///< true area, holes and tang cutouts taken out
};

/// Where the side wall of the pieces is lowest.
struct LowWall {
  double wood_mm = 0;  ///< its top above the inner face of the pieces
  Vec2 at{0, 0};       ///< in plan
};

struct SideLayout {
  Which which = Which::left;
  Outline finished;     ///< plan of the scale at its inner face: tang outline, butt allowance, front face
  Outline edge;         ///< the same drawn out past the front face: where the round-over runs
  HeightField surface;  ///< above the tang face
  double liner_total_mm = 0;  ///< s = 0 lies this far above the tang face
  CutPlane front;
  std::vector<Part> parts;  ///< liners tang outward, then pieces and spacers front to rear
  std::vector<JointLayout> joints;
  std::vector<Bond> bonds;
  LineEnd front_spine;  ///< the front face's own ends
  LineEnd front_belly;
  LowWall lowest_wall;  ///< behind the front face

  /// Finished height above the inner face of the pieces.
  double scale_height_mm(Vec2 p) const { return surface.height_mm(p) - liner_total_mm; }
};

struct Handle {
  Outline tang;
  std::vector<Outline> cutouts;
  double tang_thickness_front_mm = 0;
  double tang_slope = 0;  ///< d(thickness)/dx, 0 when not tapered
  SideLayout left;
  SideLayout right;
  bool mirrored = false;  ///< the right side is the left side's mirror image
  std::vector<PinLayout> pins;

  double tang_thickness_mm(double x) const { return tang_thickness_front_mm + tang_slope * x; }
  const SideLayout& side(Which which) const { return which == Which::left ? left : right; }
};

}  // namespace haftwright
