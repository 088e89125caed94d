// The face a cut plane leaves on a scale: how large it is, its line on the finished surface and its ends.
//
// Places on the plane are written (y, s). Areas here are those of the (y, s) rectangle; the true ones are
// larger by true_area_factor, the same all over a plane.
#pragma once

#include <optional>
#include <vector>

#include "scale_body.hpp"

namespace haftwright::layout {

/// Where the face meets the upright side wall, at spine or belly.
struct FaceEnd {
  Vec2 inner{0, 0};         ///< (x, y) at s = 0
  Vec2 outer{0, 0};         ///< (x, y) at the top of the side wall
  double outer_s_mm = 0;    ///< s of that top
  double inset_y_mm = 0;    ///< how far in y from `outer` the round-over reaches
  bool reaches_top = true;  ///< false: the plane leaves the plan below the top of the wall
};

struct PlaneSection {
  FaceEnd belly;
  FaceEnd spine;
  double area_mm2 = 0;      ///< in (y, s)
  double s_moment_mm3 = 0;  ///< integral of s over that area
  std::vector<Vec2> line;   ///< (y, s) along the finished surface, belly to spine, ends included
};

/// How closely to follow a face: widest step along its line on the surface.
enum class Closeness {
  line,  ///< at most 1 mm apart, for joint lines and face areas
  area   ///< a few places, enough for a volume
};

/// Nothing when the plane's line at s = 0 does not cross the plan. Where the plan is waisted so that the face
/// has several parts, the ends are the outermost and the line jumps from part to part.
std::optional<PlaneSection> cut(const ScaleBody& body, const CutPlane& plane, Closeness closeness);

/// s at which the plane comes out through the surface at y, looked for from `guess` on; 0 where it stands
/// outside the plan.
double surface_s_mm(const ScaleBody& body, const CutPlane& plane, double y, double guess);

/// Length of a step on the plane, in the handle's frame: from (y, s) to (y + step.x, s + step.y).
double true_length_mm(const ScaleBody& body, const CutPlane& plane, Vec2 step);
/// True area over area in (y, s).
double true_area_factor(const ScaleBody& body, const CutPlane& plane);

}  // namespace haftwright::layout
