// The finished surface of one side: a height over the plan, measured along z from the tang face.
//
// It is one function. Preview mesh, piece volumes, joint lines on the surface and the exact solid all come
// from it.
//   crown(x, y)  = thickness(x) less the drop of a circle of the crown radius, centred on the crest line
//   height(x, y) = crown, or near the edge the round-over: the envelope of a ball of the round-over radius
//                  that rolls along the edge touching the upright side wall and the crown from inside
// With a tapered tang the face the height starts from slopes by `base_slope` (dz/dx); walls stay parallel to
// z and the ball stays round in space, so the profile is that of the true solid.
//
// The surface is smooth but for these creases:
//   - inward from a convex corner of the edge two round-overs meet in a mitre, the lower of both; so they do
//     where the handle is too narrow for two balls side by side;
//   - a reflex corner is rounded as the ball swings round it; only at the corner itself the wall's top steps.
// Where a convex arc of the edge is tighter than the round-over, no ball fits: each place of the arc then
// takes its part away as a flat wall would. (A chain of short edges bent that tightly may leave steps of some
// hundredths of a millimetre.) Where the round-over takes more than the thickness, heights get negative.
// Elsewhere the surface is exact to rounding.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "haftwright/geometry/monotone_cubic.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright {

/// What shapes the surface. Thickness is that of the whole side (liners and scale) at the crest.
struct SurfaceShape {
  std::vector<MonotoneCubic::Station> thickness_mm;  ///< at least one
  std::optional<double> crown_radius_mm;             ///< none: flat across
  double crest_y_mm = 0;                             ///< y of the highest line
  double round_over_mm = 0;                          ///< 0: sharp edge
  double base_slope = 0;                             ///< dz/dx of the tang face
};

class HeightField {
 public:
  /// `edge` is the outline along which the round-over runs (the finished outline, drawn out past the front
  /// face so that the round-over does not turn the corner there). Throws std::invalid_argument when the crown
  /// radius is less than the farthest |y - crest_y| of the edge (the crown would fold) or not larger than the
  /// round-over (no ball would fit under it), when the round-over is negative, or when a value is not finite.
  HeightField(const Outline& edge, const SurfaceShape& shape);

  struct Sample {
    double height_mm = 0;
    /// d(height)/dx, d(height)/dy. The round-over starts upright at the wall: cut off at a length of 1e6.
    Vec2 gradient{0, 0};
    /// To the edge outline when nearer than the round-over, else at least that radius. 0 outside.
    double edge_distance_mm = 0;
  };

  const Outline& edge() const;
  const SurfaceShape& shape() const;

  /// 0 outside the edge. A point less than 1e-9 mm outside counts as on the edge and has the wall's height.
  double height_mm(Vec2 p) const;
  Sample sample(Vec2 p) const;
  /// The surface before the round-over, also outside the edge. Farther from the crest than the crown radius
  /// it is finite and means nothing.
  double crown_mm(Vec2 p) const;
  Vec2 crown_gradient(Vec2 p) const;
  /// Height of the upright wall at the boundary place `at` (where the round-over starts).
  double wall_height_mm(const Nearest& at) const;
  /// How far square in from the boundary place `at` the ball touches the crown; near a corner, as if the wall
  /// went on. Up to twice the round-over where the crown falls inward. `at.edge` and `at.point` are used.
  double round_over_reach_mm(const Nearest& at) const;

 private:
  struct Impl;
  std::shared_ptr<const Impl> impl_;  // shared: copies of a Handle are cheap
};

}  // namespace haftwright
