#include "haftwright/alignment/places.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright {
namespace {

/// A line nearly along the edge it meets slides without end: beyond this lever the effect is cut off.
constexpr double kLeastCrossing = 0.02;

struct Line {
  const CutPlane* plane = nullptr;
  const LineEnd* spine = nullptr;
  const LineEnd* belly = nullptr;
};

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

/// The thinnest strip beside a line; 0 where there is none.
double strip_beside(const Joint& joint, std::size_t line) {
  double thinnest = 0;
  for (const std::size_t strip : {line - 1, line})
    if (strip < joint.spacers.size())
      thinnest = thinnest == 0 ? joint.spacers[strip].thickness_mm
                               : std::min(thinnest, joint.spacers[strip].thickness_mm);
  return thinnest;
}

class Places {
 public:
  Places(const Design& design, const Handle& handle) : design_(design), handle_(handle) {}

  void add_line(MeetingPlace place, const std::string& words, const Line& left, const Line& right) {
    for (const HandleEdge edge : {HandleEdge::spine, HandleEdge::belly})
      for (const bool surface : {false, true}) {
        place.edge = edge;
        place.surface = surface;
        const auto end = [edge](const Line& line) -> const LineEnd& {
          return edge == HandleEdge::spine ? *line.spine : *line.belly;
        };
        place.left = effects_of(handle_.left, *left.plane, end(left), surface);
        place.right = effects_of(handle_.right, *right.plane, end(right), surface);
        place.nominal_mm = place.left.at.x - place.right.at.x;
        place.visible_mm = visible_mm(place);
        place.words = words + ", at the " + name_of(edge) + (surface ? ", finished surface" : ", tang face");
        places.push_back(place);
      }
  }

  std::vector<MeetingPlace> places;

 private:
  double visible_mm(const MeetingPlace& place) const {
    const ShopRules& rules = design_.rules;
    if (!place.joint) return rules.joint_step_mm;
    const double strip = std::min(strip_beside(design_.left.joints[*place.joint], place.line),
                                  strip_beside(right_.joints[*place.joint], place.line));
    return std::max(rules.joint_step_mm, rules.strip_hides_share * strip);
  }

  const Design& design_;
  const Side right_ = design_.right_side();
  const Handle& handle_;
};

Line front_of(const SideLayout& side) {
  return {&side.front, &side.front_spine, &side.front_belly};
}

Line line_of(const JointLine& line) {
  return {&line.plane, &line.spine, &line.belly};
}

}  // namespace

std::vector<MeetingPlace> meeting_places(const Design& design, const Handle& handle) {
  Places all(design, handle);
  all.add_line({}, "front face", front_of(handle.left), front_of(handle.right));
  const std::size_t joints = std::min(handle.left.joints.size(), handle.right.joints.size());
  for (std::size_t j = 0; j < joints; ++j) {
    const auto& left = handle.left.joints[j].lines;
    const auto& right = handle.right.joints[j].lines;
    const std::size_t lines = std::min(left.size(), right.size());
    for (std::size_t l = 0; l < lines; ++l)
      all.add_line({.joint = j, .line = l},
                   "joint " + std::to_string(j + 1) + (lines > 1 ? ", line " + std::to_string(l + 1) : ""),
                   line_of(left[l]), line_of(right[l]));
  }
  return std::move(all.places);
}

}  // namespace haftwright
