#include "haftwright/drawing/motion.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace haftwright {
namespace {

/// Cosines as small as this are rounding: a text that stands upright is read from the right, whichever way.
constexpr double kUpright = 1e-9;

template <class Setting>
Setting other_end(Setting setting) {
  return static_cast<Setting>(2 - static_cast<int>(setting));
}

void move(std::vector<Node>& nodes, const Motion& motion) {
  for (Node& node : nodes) {
    node.at = motion.point(node.at);
    if (motion.mirrored) node.bulge = -node.bulge;
  }
}
void move(Stroke& stroke, const Motion& motion) {
  move(stroke.nodes, motion);
}
void move(Circle& circle, const Motion& motion) {
  circle.centre = motion.point(circle.centre);
}
void move(Fill& fill, const Motion& motion) {
  for (std::vector<Node>& loop : fill.loops) move(loop, motion);
}

void move(Band& band, const Motion& motion) {
  for (auto* rung : {&band.from, &band.to})
    for (Vec2& p : *rung) p = motion.point(p);
}

void move(Text& text, const Motion& motion) {
  text.at = motion.point(text.at);
  text.shift_points = motion.direction(text.shift_points);
  const Vec2 way = motion.direction({std::cos(text.turn_rad), std::sin(text.turn_rad)});
  text.turn_rad = std::atan2(way.y, way.x);
  if (motion.mirrored) text.across = other_end(text.across);  // what was above it is below now
  const bool head_down = way.x < -kUpright || (way.x <= kUpright && way.y < 0);
  if (!head_down) return;
  text.turn_rad += text.turn_rad > 0 ? -std::numbers::pi : std::numbers::pi;
  text.along = other_end(text.along);
  text.across = other_end(text.across);
}

void move(Dimension& dimension, const Motion& motion) {
  dimension.from = motion.point(dimension.from);
  dimension.to = motion.point(dimension.to);
  dimension.line_at = motion.point(dimension.line_at);
  // The offset stays on its side of the thing: left of the way is right of its mirror image.
  dimension.along = motion.direction(dimension.along) * (motion.mirrored ? -1.0 : 1.0);
}

}  // namespace

Vec2 Motion::direction(Vec2 v) const {
  if (mirrored) v.y = -v.y;
  const double c = std::cos(turn_rad);
  const double s = std::sin(turn_rad);
  return {v.x * c - v.y * s, v.x * s + v.y * c};
}

Motion move_by(Vec2 shift_mm) {
  return {.shift_mm = shift_mm};
}

Motion turn_about(Vec2 centre, double turn_rad) {
  Motion motion{.turn_rad = turn_rad};
  motion.shift_mm = centre - motion.direction(centre);
  return motion;
}

Motion mirror_across(Vec2 through, Vec2 along) {
  if (along == Vec2{0, 0}) throw std::invalid_argument("a mirror line needs a direction");
  Motion motion{.turn_rad = 2 * std::atan2(along.y, along.x), .mirrored = true};
  motion.shift_mm = through - motion.direction(through);
  return motion;
}

Motion then(const Motion& first, const Motion& second) {
  const double turn = second.mirrored ? -first.turn_rad : first.turn_rad;
  return {second.point(first.shift_mm), second.turn_rad + turn, first.mirrored != second.mirrored};
}

std::vector<Node> moved(std::vector<Node> nodes, const Motion& motion) {
  move(nodes, motion);
  return nodes;
}

Drawing moved(Drawing drawing, const Motion& motion) {
  for (Item& item : drawing.items) std::visit([&](auto& shape) { move(shape, motion); }, item.shape);
  return drawing;
}

}  // namespace haftwright
