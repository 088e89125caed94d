#include "haftwright/alignment/places.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/handle/shared_lines.hpp"

namespace haftwright {
namespace {

/// A line nearly along the edge it meets slides without end: beyond this lever the effect is cut off.
constexpr double kLeastCrossing = 0.02;

/// How much the top of the side wall rises for each mm along the edge.
double wall_rise(const HeightField& surface, const Outline& edge, Vec2 at, Vec2 along) {
  constexpr double kStepMm = 1e-3;
  const auto wall_mm = [&](double step) { return surface.wall_height_mm(edge.nearest(at + along * step)); };
  return (wall_mm(kStepMm) - wall_mm(-kStepMm)) / (2 * kStepMm);
}

EndEffects effects_of(const SideLayout& side, const CutPlane& plane, const LineEnd& end, bool surface) {
  EndEffects effects;
  effects.at = surface ? end.outer : end.inner;
  effects.height_mm = surface ? end.outer_s_mm : 0;
  effects.tan_slant = plane.tan_slant;
  const Vec2 at{effects.at.x, effects.at.y};
  const Nearest near = side.edge.nearest(at);
  const Vec2 along = side.edge.edges()[near.edge].direction(near.t);
  // F(x, y, s) = x - x0 - y tan(slant) - s tan(rake) is 0 on the plane; the end goes along the edge, at the
  // surface along the top of the side wall, by -dF / (grad F . way), of which `along.x` shows along x.
  const Vec2 across{1, -plane.tan_slant};
  double crossing = glm::dot(across, along);
  if (surface) crossing -= plane.tan_rake * wall_rise(side.surface, side.edge, at, along);
  if (std::abs(crossing) < kLeastCrossing) crossing = std::copysign(kLeastCrossing, crossing);
  const double share = along.x / crossing;
  effects.pose = {across * share, share * (-across.x * at.y + across.y * at.x)};
  effects.place = share;
  effects.square_mm = share * at.y * (1 + plane.tan_slant * plane.tan_slant);
  effects.rake_mm = share * effects.height_mm * (1 + plane.tan_rake * plane.tan_rake);
  effects.thickness = surface ? share * plane.tan_rake : 0;
  return effects;
}

}  // namespace

std::vector<MeetingPlace> meeting_places(const Design& design, const Handle& handle) {
  std::vector<MeetingPlace> places;
  for (const SharedLine& line : shared_lines(handle))
    for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly})
      for (const bool surface : {false, true}) {
        MeetingPlace place{.joint = line.joint, .line = line.line, .edge = edge, .surface = surface};
        place.left = effects_of(handle.left, line.left.plane, line.left.at(edge), surface);
        place.right = effects_of(handle.right, line.right.plane, line.right.at(edge), surface);
        place.nominal_mm = place.left.at.x - place.right.at.x;
        place.visible_mm = design.rules.joint_step_mm;
        place.spot = line.spot;
        place.spot.edge = edge;
        place.spot.level = surface ? Level::finished_surface : Level::inner_face;
        places.push_back(place);
      }
  return places;
}

}  // namespace haftwright
