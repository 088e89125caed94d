// What only the layout can tell about a side that can't be made. Each throws InputError.
#pragma once

#include "side_input.hpp"

namespace haftwright::layout {

/// The surface over the edge. Refused when the crown folds.
HeightField finished_surface(const SideInput& input, const Outline& edge);

/// Area of the plan behind the front face under which there is no tang: what drawing the front end out has
/// added there. `backed` is the tang's outline with the butt drawn out.
double over_air_mm2(const Outline& edge, const Outline& backed, const CutPlane& front, double liner_total_mm);

/// More than this is no rounding.
inline constexpr double kOverAir_mm2 = 1e-6;

/// The plan at s = 0. `backed` is the tang's outline with the butt drawn out. Refused when the front face
/// leaves nothing, parts the plan, or stands where there is no tang.
Outline finished_outline(const SideInput& input, const ScaleBody& body, const Outline& backed);

/// Less wall than this above the liners can't be made; a kernel and a file too tell it from none.
inline constexpr double kLeastWall_mm = 0.1;

/// The lowest side wall. Refused when the surface or, because of the round-over, the wall comes down to the
/// liners.
LowWall sound_lowest_wall(const SideInput& input, const ScaleBody& body);

/// A joint's face, or the front face, which must cross the whole plan from s = 0 to the surface.
PlaneSection face_through(const SideInput& input, const ScaleBody& body, const CutPlane& plane,
                          const std::string& name, const std::string& field);

/// Refused when two neighbouring faces cross or touch within the handle.
struct NamedFace {
  const CutPlane& plane;
  const PlaneSection& section;
  std::string name;
};
void refuse_crossing(const SideInput& input, const NamedFace& front, const NamedFace& rear,
                     const std::string& field);

}  // namespace haftwright::layout
