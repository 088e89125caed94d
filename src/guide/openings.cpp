// Bores for the drill and windows to sight the joint lines through.
#include <algorithm>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/reference/drills.hpp"
#include "plan.hpp"

namespace haftwright::guide {
namespace {

/// How far a window reaches past the blank's edge, so that the edge itself is seen in it.
constexpr double kPastEdgeMm = 3;

/// The drill that goes through the bore: its listed size, since that is the size of its body.
double drill_body_mm(const HoleSize& hole) {
  if (hole.drill.empty()) return hole.actual_mm();
  const auto listed = find_drill(hole.drill);
  return listed ? listed->diameter_mm : hole.actual_mm();
}

struct WindowPlace {
  std::size_t joint;
  bool for_left;
  bool for_right;
  bool at_spine;
  Vec2 end;     // of the joint line on the inner face
  Vec2 inward;  // unit, along the joint line away from that end
};

SightWindow make_window(const WindowPlace& place, const GuideSettings& settings, double toward_rear) {
  const double past = std::min(kPastEdgeMm, settings.window_length_mm / 3);
  const Vec2 from = place.end + place.inward * (settings.window_length_mm - past);
  const Vec2 to = place.end - place.inward * past;
  Vec2 across = turned_left(place.inward);
  if (across.x * toward_rear < 0) across = -across;
  across *= settings.window_width_mm;
  return {place.joint,
          place.for_left,
          place.for_right,
          place.at_spine,
          Outline({{from, 0}, {to, 0}, {to + across, 0}, {from + across, 0}}),
          from,
          to};
}

double clearance_mm(const SightWindow& window, const DrillGuide& guide) {
  double least = HUGE_VAL;
  for (const GuideBore& bore : guide.bores) least = std::min(least, gap_mm(disc_of(bore), window.outline));
  for (const SightWindow& other : guide.windows) {
    const bool overlap = contains(other.outline, window.outline) || contains(window.outline, other.outline);
    least = std::min(least, overlap ? 0.0 : boundary_distance_mm(other.outline, window.outline));
  }
  return least;
}

void add_window(const WindowPlace& place, const GuideSettings& settings, DrillGuide& guide) {
  SightWindow toward_front = make_window(place, settings, -1);
  SightWindow toward_rear = make_window(place, settings, 1);
  const bool front_is_clear = clearance_mm(toward_front, guide) >= clearance_mm(toward_rear, guide);
  guide.windows.push_back(std::move(front_is_clear ? toward_front : toward_rear));
}

void add_windows_of(const JointLayout& joint, bool for_left, bool for_right, const GuideSettings& settings,
                    DrillGuide& guide) {
  const JointLine& line = joint.lines.front();
  const Vec2 spine{line.spine.inner};
  const Vec2 belly{line.belly.inner};
  const Vec2 up = glm::normalize(spine - belly);
  add_window({joint.joint, for_left, for_right, true, spine, -up}, settings, guide);
  add_window({joint.joint, for_left, for_right, false, belly, up}, settings, guide);
}

}  // namespace

void add_bores(const Design& design, const Handle& handle, DrillGuide& guide) {
  const GuideSettings& settings = design.guide;
  for (const PinLayout& pin : handle.pins) {
    const double drill = drill_body_mm(design.pins[pin.pin].scale_hole);
    const bool bushing = settings.bushing_outside_mm.has_value();
    const double diameter = settings.bushing_outside_mm.value_or(drill) + settings.guide_clearance_mm;
    guide.bores.push_back({pin.pin, pin.at, drill, diameter, bushing});
  }
}

void add_windows(const Design& design, const Handle& handle, DrillGuide& guide) {
  const auto& left = handle.left.joints;
  const auto& right = handle.right.joints;
  for (std::size_t i = 0; i < std::max(left.size(), right.size()); ++i) {
    const bool both = i < left.size() && i < right.size();
    if (both && left[i].lines.front().plane == right[i].lines.front().plane) {
      add_windows_of(left[i], true, true, design.guide, guide);
      continue;
    }
    if (i < left.size()) add_windows_of(left[i], true, false, design.guide, guide);
    if (i < right.size()) add_windows_of(right[i], false, true, design.guide, guide);
  }
}

}  // namespace haftwright::guide
