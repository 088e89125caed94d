// The fold view: the handle unrolled about its spine or its belly, at true scale.
//
// One drawing: the left face in plan, the edge seen edge-on as a strip (right scale, right liners, tang, left
// liners, left scale, at true thickness), and the right face turned over the edge. A joint line runs from one
// face over the strip to the other, so that a step shows as a step.
//
// Drawing coordinates are millimetres, X toward the butt as x, Y upward. Folded about the spine the left face
// lies below, the strip over it, the right face upside down on top; folded about the belly the right face
// lies at the bottom. Every region is drawn without distortion: a length in the drawing is a length on the
// handle. Between the faces and the strip `gap_mm` is left free at the nearest point.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "haftwright/handle/fold_place.hpp"
#include "haftwright/handle/handle.hpp"
#include "haftwright/preview/meshes.hpp"

namespace haftwright {

enum class FoldAbout { spine, belly };

/// Between drawing and handle, both ways, exact to rounding.
class FoldMap {
 public:
  FoldMap() = default;
  FoldMap(const Handle& handle, FoldAbout about, double gap_mm);

  FoldAbout about() const { return about_; }
  Vec2 on_face(Which side, Vec2 xy) const;
  Vec2 on_strip(double x, double z) const;
  Vec2 to_drawing(const FoldPlace& place) const;
  /// What lies under a point of the drawing. The whole plane is divided: what is beyond the half of a gap
  /// belongs to the neighbour.
  FoldPlace to_handle(Vec2 drawing) const;
  /// The same, held to one region: for a drag that leaves it.
  FoldPlace to_handle(Vec2 drawing, FoldRegion region) const;

 private:
  FoldAbout about_ = FoldAbout::spine;
  double strip_sign_ = -1;     // dY/dz on the strip
  double strip_at_zero_ = 0;   // Y of z = 0
  double right_at_zero_ = 0;   // Y of y = 0 on the right face (dY/dy is -1)
  double left_to_strip_ = 0;   // Y half-way in the gap between left face and strip
  double strip_to_right_ = 0;  // Y half-way in the gap between strip and right face
};

/// A filled area: the visible face of a piece or spacer, or a layer on the strip.
struct FoldArea {
  FoldRegion region = FoldRegion::left_face;
  BodyId body;
  std::string name;
  std::string material;  ///< key
  MaterialKind material_kind = MaterialKind::wood;
  Colour colour;
  std::vector<Vec2> loop;                ///< drawing mm, closed, first point not repeated
  std::vector<std::vector<Vec2>> holes;  ///< of the tang: its cutouts
};

enum class FoldLineKind {
  tang_outline,      ///< the steel, under the scales too
  finished_outline,  ///< the scale's outline at its inner face, closed
  cutout,            ///< in the tang, closed
  joint_surface,     ///< joint or spacer line on the finished surface, belly to spine
  joint_inner,       ///< the same on the inner face of the pieces, hidden under them
  front_surface,     ///< front face on the finished surface
  front_inner,
  strip_joint,  ///< across the strip: from the inner to the outer face of one side
  strip_front,
  strip_layer,     ///< bounds of tang, liners and wall on the strip
  strip_crest,     ///< the highest line of each side: its overall thickness
  fold_link,       ///< from a line's end on a face to its end on the strip, at the same x
  round_over_rim,  ///< where the round-over begins on the finished surface, closed or open
};

struct FoldLine {
  FoldLineKind kind = FoldLineKind::finished_outline;
  FoldRegion region = FoldRegion::left_face;  ///< links: the face they come from
  Which side = Which::left;                   ///< whose line it is, on the strip too
  std::size_t joint = 0;                      ///< joint lines
  std::size_t line = 0;                       ///< within the joint, front to rear
  bool closed = false;
  std::vector<Vec2> points;  ///< drawing mm
};

enum class FoldCircleKind {
  pin,
  pin_bore,
  scale_hole,
  liner_hole,
  tang_hole,
  existing_tang_hole,
  cutout  ///< on the strip only: from its foremost to its rearmost place
};

/// A pin or a hole on a face, in true size.
struct FoldCircle {
  FoldCircleKind kind = FoldCircleKind::pin;
  Which face = Which::left;
  std::size_t index = 0;  ///< in Design::pins; existing holes and cutouts: in Tang
  Vec2 centre{0, 0};      ///< drawing mm
  double radius_mm = 0;
};

/// A hole or pin on the strip, seen through the material: a band across its layer.
struct FoldBand {
  FoldCircleKind kind = FoldCircleKind::pin;
  std::size_t index = 0;
  Vec2 low{0, 0};  ///< drawing mm, lower left corner
  Vec2 high{0, 0};
};

struct FoldDrawing {
  FoldMap map;
  std::vector<FoldArea> areas;  ///< in the order to paint them
  std::vector<FoldLine> lines;
  std::vector<FoldCircle> circles;
  std::vector<FoldBand> bands;
  Vec2 low{0, 0};  ///< bounds of everything
  Vec2 high{0, 0};
};

struct FoldSettings {
  FoldAbout about = FoldAbout::spine;
  double gap_mm = 4;
  double deviation_mm = 0.01;  ///< how far a drawn polyline may leave a curve
};

/// Throws std::invalid_argument for settings that are not positive.
FoldDrawing draw_fold(const Design& design, const Handle& handle, const FoldSettings& settings = {});

}  // namespace haftwright
