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

#include "haftwright/drawing/drawing.hpp"
#include "haftwright/drawing/motion.hpp"
#include "haftwright/handle/fold_place.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

enum class FoldAbout { spine, belly };

/// Between drawing and handle, both ways, exact to rounding.
class FoldMap {
 public:
  FoldMap() = default;
  FoldMap(const Handle& handle, FoldAbout about, double gap_mm);

  FoldAbout about() const { return about_; }
  Vec2 on_face(Which side, Vec2 xy) const { return onto_face(side).point(xy); }
  /// From plan to drawing.
  Motion onto_face(Which side) const;
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

/// What an item of the drawing shows.
enum class FoldKind {
  area,              ///< the visible face of a piece or spacer, a layer on the strip, the steel
  axis,              ///< y = 0 of a face
  tang_outline,      ///< the steel, under the scales too
  finished_outline,  ///< the scale's outline at its inner face
  cutout,            ///< in the tang; on the strip from its foremost to its rearmost place
  joint,             ///< joint or spacer line on the finished surface, belly to spine; on the strip: its face
  joint_inner,       ///< the same on the inner face of the pieces, hidden under them
  front,             ///< front face on the finished surface, belly to spine; on the strip: all of it
  front_inner,
  layer,           ///< bounds of tang, liners and wall on the strip
  crest,           ///< on the strip: the highest line of each side, its overall thickness
  link,            ///< from a line's end on a face to its end on the strip, at the same x
  round_over_rim,  ///< where the round-over begins on the finished surface
  pin,             ///< on the strip pins and holes are seen through the material
  pin_bore,
  scale_hole,
  liner_hole,
  tang_hole,
  existing_hole,  ///< in the tang from the start
  caption
};

/// Which one; an item's tag is the index of its thing.
struct FoldThing {
  FoldKind kind = FoldKind::area;
  FoldRegion region = FoldRegion::left_face;  ///< links: the face they come from
  Which side = Which::left;                   ///< whose line it is, on the strip too
  std::size_t index = 0;                      ///< in Design::pins; existing holes and cutouts: in Tang
  std::size_t joint = 0;                      ///< joint lines and their links
  std::size_t line = 0;                       ///< within the joint, front to rear
  std::string name;                           ///< areas, pins and holes: of the part, "pin 2"
};

struct FoldDrawing {
  FoldMap map;
  Drawing drawing;
  std::vector<FoldThing> things;  ///< one for each item
  Bounds bounds;                  ///< of the handle; axes and captions reach beyond
};

struct FoldSettings {
  FoldAbout about = FoldAbout::spine;
  double gap_mm = 4;
  double deviation_mm = 0.01;  ///< how far a drawn polyline may leave a curve that is neither line nor arc
};

/// Throws std::invalid_argument for settings that are not positive.
FoldDrawing draw_fold(const Design& design, const Handle& handle, const FoldSettings& settings = {});

}  // namespace haftwright
