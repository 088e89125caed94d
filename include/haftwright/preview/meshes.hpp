// The finished handle as triangles: one closed mesh for each part, fast enough to make anew on every mouse
// move.
//
// Points lie on the height field; edges follow the outline, the joint planes, the hole rims and the
// round-over exactly at every vertex. Between vertices a chord leaves an outline, a rim or the round-over by
// at most MeshSettings::deviation_mm, and the crown by what its curvature does over a cell. Volumes come out
// right to 0.6 % with the default settings, to 0.1 % with the fine ones. Nothing here draws: render/ and the
// tests do the rest.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright {

enum class BodyKind { tang, liner, piece, spacer, pin, guide };  // guide: see guide_mesh.hpp

/// Which part a body is: stays the same from one edit to the next.
struct BodyId {
  BodyKind kind = BodyKind::tang;
  Which side = Which::left;  ///< liners, pieces and spacers
  std::size_t index = 0;     ///< as Part::index; pins: place in Design::pins; guide: place in its preview
  std::size_t joint = 0;     ///< spacers only
  bool operator==(const BodyId&) const = default;
};

/// The material's own axes in a body, in the handle's frame. Solid (3D) textures are drawn along them, so
/// that end grain, flat grain and a crowned surface come out of one block of wood.
struct GrainFrame {
  Vec3 origin{0, 0, 0};  ///< a fixed place in the block: does not move when a joint or the surface does
  Vec3 fibre{1, 0, 0};   ///< unit: along the fibre, the rolling direction of a metal, a pin's axis
  Vec3 radial{0, 0, 1};  ///< unit, square to it: from ring to ring, from sheet to sheet in a laminate
};

struct Vertex {
  std::array<float, 3> position{};  ///< mm, in the handle's frame
  std::array<float, 3> normal{};    ///< unit, outward; sharp edges have their vertices double
  /// mm under the finished surface as it would be without its round-over: 0 on it, on the wall of a piece
  /// how far down. 0 all over bodies that are neither pieces nor spacer strips.
  float below = 0;
  bool operator==(const Vertex&) const = default;
};

/// A closed mesh: joined where positions are equal, every edge is used once each way. Triangles are
/// counter-clockwise seen from outside.
struct Body {
  BodyId id;
  std::string name;      ///< "left front piece", "tang", "pin 2"
  std::string material;  ///< key
  MaterialKind material_kind = MaterialKind::wood;
  Colour colour;        ///< of the material
  GrainFrame grain;     ///< what Piece::grain says, turned into the handle's frame
  Vec3 apart{0, 0, 0};  ///< where the part goes in the exploded view, mm at full explosion
  std::vector<Vertex> vertices;
  std::vector<std::uint32_t> triangles;  ///< three indices each

  std::size_t triangle_count() const { return triangles.size() / 3; }
};

struct MeshSettings {
  double cell_mm = 1.4;        ///< spacing of vertices on the crowned surface, 0.2 to 20
  double deviation_mm = 0.02;  ///< how far a chord may leave an outline, a rim or the round-over, 0.001 to 1

  /// For every step of a drag: coarser on a large handle, so that a frame stays a frame.
  static MeshSettings dragging(const Handle& handle);
  /// For still pictures.
  static MeshSettings fine() { return {0.5, 0.002}; }
};

struct Preview {
  std::vector<Body> bodies;  ///< tang; left parts as in SideLayout::parts; right parts; pins
  Vec3 low{0, 0, 0};         ///< of all bodies together, not exploded
  Vec3 high{0, 0, 0};

  const Body* find(const BodyId& id) const;
  std::size_t triangle_count() const;
};

/// Throws std::invalid_argument for settings out of range. Never fails for a handle that lay_out made.
Preview build_preview(const Design& design, const Handle& handle, const MeshSettings& settings = {});

/// The box round a body, not exploded; the wrong way round without vertices.
struct BodyBox {
  Vec3 low{0, 0, 0};
  Vec3 high{0, 0, 0};
};
BodyBox box_of(const Body& body);

/// Volume inside a closed mesh, mm3.
double mesh_volume_mm3(const Body& body);
/// Sets low and high to the bounds of all bodies; {0, 0, 0} without any.
void measure_bounds(Preview& preview);

}  // namespace haftwright
