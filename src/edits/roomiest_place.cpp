#include "haftwright/edits/pins.hpp"

#include <algorithm>
#include <optional>

#include "haftwright/design/holes.hpp"
#include "haftwright/geometry/segment.hpp"

namespace haftwright {
namespace {

constexpr double kStepMm = 0.5;

/// The largest circle about `p` that keeps clear of everything; negative outside.
double room_mm(const Design& design, const Handle& handle, Vec2 p) {
  double room = handle.tang.depth_mm(p);
  for (const Outline& cutout : handle.cutouts) room = std::min(room, -cutout.depth_mm(p));
  for (const SideLayout* side : {&handle.left, &handle.right}) {
    room = std::min(room, side->finished.depth_mm(p));
    for (const JointLayout& joint : side->joints)
      for (const JointLine& line : joint.lines)
        room = std::min(room, distance_to_segment_mm(p, Vec2(line.spine.inner), Vec2(line.belly.inner)));
  }
  for (const Pin& pin : design.pins)
    room = std::min(room, glm::distance(p, pin.at_mm) - widest_hole_mm(pin) / 2);
  for (const TangHole& hole : design.tang.holes)
    room = std::min(room, glm::distance(p, hole.at_mm) - hole.diameter_mm / 2);
  return room;
}

/// On the axis, or midway between the edges where the axis runs outside of the handle.
std::optional<Vec2> place_at(const Outline& finished, double x_mm) {
  if (finished.contains({x_mm, 0})) return Vec2{x_mm, 0};
  const Bounds bounds = finished.bounds();
  std::optional<double> low, high;
  for (double y = bounds.low.y; y <= bounds.high.y; y += kStepMm) {
    if (!finished.contains({x_mm, y})) continue;
    if (!low) low = y;
    high = y;
  }
  if (!low) return std::nullopt;
  return Vec2{x_mm, (*low + *high) / 2};
}

}  // namespace

std::optional<Vec2> roomiest_place_mm(const Design& design, const Handle& handle, double diameter_mm) {
  std::optional<Vec2> best;
  double most = diameter_mm / 2;
  const Bounds bounds = handle.left.finished.bounds();
  for (double x = bounds.low.x + kStepMm; x < bounds.high.x; x += kStepMm) {
    const auto place = place_at(handle.left.finished, x);
    if (!place) continue;
    const double room = room_mm(design, handle, *place);
    if (room <= most) continue;
    most = room;
    best = place;
  }
  return best;
}

}  // namespace haftwright
