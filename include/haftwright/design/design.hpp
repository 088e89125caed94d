// What the maker decided: the whole of a project, as one plain value.
//
// A Design is copyable and comparable and points at nothing. Editing makes a new Design. Everything else
// (Handle, findings, solids) is derived from it and never saved.
//
// Frame: x from the front face toward the butt, y toward the spine, z toward the left side; origin on the
// tang's mid-plane at the front face on the handle's axis. On each side s is the height above the inner face
// of the pieces (outward, along z); joints, front face and finish are given in (x, y, s), so that equal
// numbers on both sides are mirror images. Units: millimetres and degrees.
//
// Pins, tang holes, pieces and joints have an id (ids.hpp), by which readings, pins and whatever is selected
// refer to them; names are for people.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/design/drilling.hpp"
#include "haftwright/design/hand_place.hpp"
#include "haftwright/design/shop_rules.hpp"
#include "haftwright/design/sides.hpp"
#include "haftwright/design/units.hpp"
#include "haftwright/geometry/monotone_cubic.hpp"
#include "haftwright/geometry/outline.hpp"
#include "haftwright/reference/materials.hpp"

namespace haftwright {

/// A hole that is in the tang already, measured on it.
struct TangHole {
  std::string id;
  Vec2 at_mm{0, 0};
  double diameter_mm = 0;
  std::string name = {};  ///< for people; may be empty, and another hole's too
  bool operator==(const TangHole&) const = default;
};

struct Tang {
  std::vector<Node> outline;      ///< the flat steel as it is, blade side to butt
  double thickness_front_mm = 4;  ///< at x = 0
  double thickness_butt_mm = 4;   ///< at the rearmost point; both faces are flat between (distal taper)
  std::string material = "carbon_steel";
  bool hardened = false;
  std::vector<TangHole> holes;
  std::vector<std::vector<Node>> cutouts;
  bool operator==(const Tang&) const = default;
};

/// A liner, or a spacer strip in a joint.
struct Sheet {
  std::string material;
  double thickness_mm = 1;
  bool operator==(const Sheet&) const = default;
};

/// How the wood lies in a piece: the fibre's direction in the face (from +x toward +y), how far it dips out
/// of the face, and how the growth rings are turned about the fibre.
struct Grain {
  double along_deg = 0;
  double dip_deg = 0;
  double rings_deg = 0;
  bool operator==(const Grain&) const = default;
};

/// The rough blank a piece is cut from. Length runs along x, width along y.
struct Blank {
  double thickness_mm = 10;
  std::optional<double> width_mm;   ///< not given: not checked
  std::optional<double> length_mm;  ///< not given: not checked
  bool operator==(const Blank&) const = default;
};

struct Piece {
  std::string material;
  Blank blank;
  Grain grain;
  std::string id = {};
  bool operator==(const Piece&) const = default;
};

/// Between piece i and piece i + 1. The middle of the spacer stack is the plane
///   x = place_mm + y tan(slant) + s tan(rake).
struct Joint {
  double place_mm = 0;
  double slant_deg = 0;
  double rake_deg = 0;
  std::vector<Sheet> spacers;  ///< front to rear, thickness measured square to the joint
  std::string id = {};         ///< its counterpart's on the other side too
  bool operator==(const Joint&) const = default;
};

/// The plane x = place + y tan(slant) + s tan(rake) where the scale begins.
struct FrontFace {
  double place_mm = 0;
  double slant_deg = 0;
  double rake_deg = 0;
  bool operator==(const FrontFace&) const = default;
};

/// The shaped surface of a side.
struct Finish {
  std::vector<MonotoneCubic::Station> thickness_mm{{0, 8}};  ///< whole side (liners and scale) at the crest
  std::optional<double> crown_radius_mm;                     ///< none: flat across
  double crest_y_mm = 0;
  double round_over_mm = 0;
  bool operator==(const Finish&) const = default;
};

/// One side, tang outward and front to rear.
struct Side {
  std::vector<Sheet> liners;  ///< tang outward
  std::vector<Piece> pieces;  ///< front to rear, at least one
  std::vector<Joint> joints;  ///< one fewer than pieces
  FrontFace front;
  double butt_proud_mm = 0;  ///< how far the scale stands out behind the tang's butt
  Finish finish;
  bool operator==(const Side&) const = default;
};

/// What the right side does differently; everything not given mirrors the left side.
struct SideOverrides {
  std::optional<std::vector<Sheet>> liners;
  std::optional<std::vector<Piece>> pieces;
  std::optional<std::vector<Joint>> joints;
  std::optional<FrontFace> front;
  std::optional<double> butt_proud_mm;
  std::optional<Finish> finish;
  bool operator==(const SideOverrides&) const = default;
};

/// Pin stock as bought and as measured.
struct PinStock {
  double nominal_mm = 3;
  std::optional<double> measured_mm;
  double bore_mm = 0;  ///< 0: solid; else a tube of this bore
  std::string material = "brass_c36000";
  double diameter_mm() const { return measured_mm.value_or(nominal_mm); }
  bool operator==(const PinStock&) const = default;
};

/// A hole's diameter: typed, or from a listed drill, whose real hole may have been measured.
struct HoleSize {
  std::string drill;                  ///< listed label; empty when typed
  std::optional<double> diameter_mm;  ///< typed, or what the drill was measured to make
  bool operator==(const HoleSize&) const = default;
  /// What the hole measures; throws std::invalid_argument when the drill is unknown and no diameter is given.
  double actual_mm() const;
};

/// A pin through tang, liners and both scales, parallel to z.
struct Pin {
  std::string id;
  std::string name;  ///< for people; may be empty, and another pin's too
  Vec2 at_mm{0, 0};
  PinStock stock;
  HoleSize scale_hole;
  HoleSize liner_hole;
  HoleSize tang_hole;
  std::string existing_tang_hole;  ///< id of a hole the tang already has; tang_hole is then not given
  bool operator==(const Pin&) const = default;
};

enum class MixBy { volume, weight };

struct Adhesive {
  double bond_line_mm = 0.15;
  double resin_parts = 2;
  double hardener_parts = 1;
  MixBy mix_by = MixBy::volume;
  double resin_density_g_ml = 1.15;
  double hardener_density_g_ml = 1.081;
  double squeeze_out_factor = 0.5;  ///< extra, as a share of the net volume
  double cup_loss_ml = 1.0;         ///< what stays in the cup and on the stick
  double scale_step_g = 0.1;        ///< smallest step the shop scale shows
  double least_batch_g = 5;         ///< smallest batch that can be metered reliably
  bool operator==(const Adhesive&) const = default;
};

/// What all drill guides of a shop have in common: fences, stop pins and bushings out of its drawers, what
/// its machine can make. See guide/drill_guide.hpp for what each one does.
struct GuideHabits {
  bool wedged = true;  ///< faces tilted by half the tang's taper each, so that bores stand square to it
  double margin_mm = 14;
  std::optional<double> bushing_outside_mm;  ///< none: plain bores
  double guide_clearance_mm = 0.05;          ///< plain bore over drill; on a bushing hole: over the bushing
  double fence_diameter_mm = 8;
  double stop_pin_mm = 6;  ///< diameter of the loose stop pins
  double window_length_mm = 9;
  double window_width_mm = 5;
  double least_wall_mm = 2;
  bool operator==(const GuideHabits&) const = default;
};
/// And what this handle and its blanks ask of theirs.
struct GuideSettings : GuideHabits {
  double plate_thickness_mm = 12;  ///< of a wedged plate: at its thinnest bore
  double fence_height_mm = 5;
  double blank_allowance_mm = 0;  ///< how far the blank's spine stands proud of the finished outline
  bool operator==(const GuideSettings&) const = default;
};

struct Design {
  std::string name;
  std::string note;
  LengthUnit shown_unit = LengthUnit::millimetre;
  std::vector<Material> own_materials;  ///< the project's additions to the listed materials
  Tang tang;
  Side left;
  SideOverrides right;
  std::vector<Pin> pins;
  Adhesive adhesive;
  GuideSettings guide;
  ShopRules rules;
  Drilling drilling;
  std::vector<CaliperReading> dry_fit;  ///< readings taken when the scales were pinned on dry
  std::vector<HandPlace> hand_places;   ///< of blanks on offcuts; at most one of a piece

  /// The right side with what it does not override taken from the left.
  Side right_side() const;
  /// What a side has of them, front to rear, without a copy of the whole side.
  const std::vector<Piece>& pieces(Which side) const;
  const std::vector<Joint>& joints(Which side) const;
  /// Own materials first, then the listed ones; nullptr when unknown.
  const Material* material(std::string_view key) const;
  /// Both sides are made alike (no override, or overrides equal to the left but for the ids).
  bool mirrored() const;
  bool operator==(const Design&) const = default;
};

}  // namespace haftwright
