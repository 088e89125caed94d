// Where left and right are held against each other, and how each such place moves when something is off.
//
// A joint line meets the edge of the handle (spine, belly) at the tang face and again at the finished
// surface. The scales are glued on and then ground flush with the tang: when a scale is off, its joint planes
// move with it and the edge stays. So a line's end slides along the edge, and the step is told along x, as
// the maker measures it. The effects are exact to first order.
#pragma once

#include <optional>
#include <vector>

#include "haftwright/handle/handle.hpp"
#include "haftwright/tolerance/clearance.hpp"
#include "haftwright/words/where.hpp"

namespace haftwright {

/// How far the end of a line goes along x, for each unit of what is off.
struct EndEffects {
  Vec3 at{0, 0, 0};      ///< the line's end, in the handle's frame
  PoseEffect pose;       ///< of the scale
  double place = 0;      ///< mm for each mm that the joint is off its place on the blank
  double square_mm = 0;  ///< mm for each radian that its slant is off, turned where it crosses the axis
  double rake_mm = 0;    ///< mm for each radian that its rake is off, turned at the inner face
  double thickness = 0;  ///< mm for each mm of height taken off too little; 0 at the tang face
  double height_mm = 0;  ///< s of the end; 0 at the tang face
  double tan_slant = 0;  ///< of the line
};

struct MeetingPlace {
  std::optional<std::size_t> joint;  ///< none: the front face
  std::size_t line = 0;              ///< within the joint, front to rear
  HandleEdge edge = HandleEdge::spine;
  bool surface = false;  ///< at the finished surface, else at the tang face
  EndEffects left;
  EndEffects right;
  double nominal_mm = 0;  ///< left x less right x, as laid out
  double visible_mm = 0;  ///< more than this shows
  Spot spot;              ///< joint 1, line 2, at the spine, on the finished surface
};

/// At every line of shared_lines(). Each place is there twice, tang face before finished surface.
std::vector<MeetingPlace> meeting_places(const Design& design, const Handle& handle);

}  // namespace haftwright
