// The bin of offcuts: what lies in the shop to make handles of, as one plain value.
//
// A bin belongs to the shop, not to a project: all projects take from it. It is copyable and comparable and
// points at nothing; editing (bin_edits.hpp) makes a new one.
//
// Frame of an offcut or a sheet: x along it, y across, the upper face looked at, z up toward the viewer;
// where the origin lies is the maker's choice. Everything about it (grain, defects, marks of photos, of the
// lower face too) is given in that one frame. Units: millimetres and degrees.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/design/design.hpp"
#include "haftwright/geometry/outline.hpp"
#include "haftwright/reference/materials.hpp"

namespace haftwright {

/// What a place to be avoided is.
enum class DefectKind { knot, check, hole, sapwood, other };

/// A place that no piece may have in it, through the whole thickness. It may stick out over the edge.
struct Defect {
  DefectKind kind = DefectKind::knot;
  std::vector<Node> outline;  ///< in the offcut's frame; two nodes of bulge 1 are a circle
  std::string note = {};
  bool operator==(const Defect&) const = default;
};

/// Faces that may be seen on a finished handle; an offcut may have both.
enum ShowFace : unsigned { no_face = 0, upper_face = 1u << 0, lower_face = 1u << 1 };

/// A place that is known in the picture and on the offcut.
struct PhotoMark {
  Vec2 at_px{0, 0};  ///< right and down from the upper left corner of the picture as it is looked at
  Vec2 at_mm{0, 0};  ///< in the offcut's frame, also where the picture shows the lower face
  bool operator==(const PhotoMark&) const = default;
};

/// A picture of one face.
struct OffcutPhoto {
  std::string file;  ///< name in the bin's folder of pictures, without any path
  Face face = Face::upper;
  std::vector<PhotoMark> marks;    ///< none: not squared up yet; else at least 4
  double face_above_marks_mm = 0;  ///< how far the face lies nearer to the camera than the marks do
  /// Bow of the lens: a place at r from the middle belongs at r / (1 + k1 r^2), r = 1 at half the diagonal.
  double lens_k1 = 0;
  std::optional<double> camera_height_mm = {};  ///< from the lens square down to the plane of the marks
  bool operator==(const OffcutPhoto&) const = default;
};

/// A project means to take a piece from this.
struct Reservation {
  std::string project;  ///< what the project is called by all its reservations
  std::string piece;    ///< in words: "left rear"
  bool operator==(const Reservation&) const = default;
};

/// A piece of wood, or of anything else that scales are made of.
struct Offcut {
  std::string id;    ///< unlike every other in the bin, those of sheets and rods included
  std::string name;  ///< for people; may be empty, and another one's too
  std::string material;
  std::vector<Node> outline;  ///< of the upper face, both faces alike
  double thickness_mm = 0;
  Grain grain;  ///< along: of the fibre, from +x toward +y
  unsigned show_faces = upper_face | lower_face;
  std::vector<Defect> defects;
  int alike = 1;            ///< so many there are of it, each as described
  std::string matched_set;  ///< slices of one block have one name here; empty: it is none
  int slice = 0;            ///< its place in the block, from 1; 0 where it belongs to no set
  std::optional<double> moisture_percent = {};  ///< water, as a share of the dry wood's weight
  std::vector<OffcutPhoto> photos = {};
  std::string kept_at = {};
  std::string note = {};
  std::vector<Reservation> reserved = {};
  bool operator==(const Offcut&) const = default;
};

/// What liners and spacer strips are cut from.
struct SheetStock {
  std::string id;
  std::string name;
  std::string material;
  double thickness_mm = 0;
  std::vector<Node> outline;  ///< what is left of it
  int alike = 1;
  std::string kept_at = {};
  std::string note = {};
  std::vector<Reservation> reserved = {};
  bool operator==(const SheetStock&) const = default;
};

/// What pins are cut from.
struct RodStock {
  std::string id;
  std::string name;
  PinStock stock;
  double length_mm = 0;  ///< what is left of it
  int alike = 1;
  std::string kept_at = {};
  std::string note = {};
  std::vector<Reservation> reserved = {};
  bool operator==(const RodStock&) const = default;
};

struct Bin {
  std::string note;
  LengthUnit shown_unit = LengthUnit::millimetre;
  std::vector<Material> own_materials;  ///< the bin's additions to the listed materials
  std::vector<Offcut> offcuts;
  std::vector<SheetStock> sheets;
  std::vector<RodStock> rods;

  /// Own materials first, then the listed ones; nullptr when unknown.
  const Material* material(std::string_view key) const;
  bool operator==(const Bin&) const = default;
};

/// Length along x, width along y.
struct FlatSize {
  double length_mm = 0;
  double width_mm = 0;
  bool operator==(const FlatSize&) const = default;
};
/// The rectangle of that size, its lower left corner at the origin.
std::vector<Node> rectangle(const FlatSize& size);
/// The size, where the chain is just what rectangle() makes; else none.
std::optional<FlatSize> rectangle_size(const std::vector<Node>& chain);

/// How far the outline reaches along and across the grain: what it measures between straight edges, which is
/// more than an odd shape can give.
FlatSize extent_along_grain(const Offcut& offcut);

}  // namespace haftwright
