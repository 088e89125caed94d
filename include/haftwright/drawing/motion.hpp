// Moving, turning and mirroring drawings. Nothing is scaled: a drawing stays true to size.
#pragma once

#include "haftwright/drawing/drawing.hpp"

namespace haftwright {

/// First mirrored across the x axis, if it is, then turned about the origin, then shifted.
struct Motion {
  Vec2 shift_mm{0, 0};
  double turn_rad = 0;  ///< counter-clockwise
  bool mirrored = false;

  Vec2 point(Vec2 p) const { return direction(p) + shift_mm; }
  Vec2 direction(Vec2 v) const;
};
Motion move_by(Vec2 shift_mm);
Motion turn_about(Vec2 centre, double turn_rad);
/// Across the line through a point along a direction (of any length but 0, else std::invalid_argument).
Motion mirror_across(Vec2 through, Vec2 along);
/// The one and then the other.
Motion then(const Motion& first, const Motion& second);

std::vector<Node> moved(std::vector<Node> nodes, const Motion& motion);
/// Texts and dimensions stay readable, from below or from the right, and keep to the place that they had:
/// they are turned and set from their other end, never mirrored themselves.
Drawing moved(Drawing drawing, const Motion& motion);

}  // namespace haftwright
