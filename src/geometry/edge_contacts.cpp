#include "edge_contacts.hpp"

#include <cmath>

namespace haftwright::geometry {

CarrierMeetings::CarrierMeetings(const Edge& a, const Edge& b, double tolerance_mm) {
  if (a.is_arc() && b.is_arc()) {
    // The smaller circle carries the computation: its points are known to more digits.
    a.radius <= b.radius ? add_arcs(a, b, tolerance_mm) : add_arcs(b, a, tolerance_mm);
  } else if (a.is_arc()) {
    add_line_and_arc(b, a, tolerance_mm);
  } else if (b.is_arc()) {
    add_line_and_arc(a, b, tolerance_mm);
  } else {
    add_lines(a, b);
  }
}

void CarrierMeetings::add_lines(const Edge& a, const Edge& b) {
  const Vec2 along_a = a.to - a.from;
  const Vec2 along_b = b.to - b.from;
  const double turn = cross(along_a, along_b);
  if (turn == 0) return;
  add(a.from + along_a * (cross(b.from - a.from, along_b) / turn));
}

void CarrierMeetings::add_line_and_circle(Vec2 base, Vec2 unit, const Edge& arc, double tolerance_mm) {
  // |q|^2 = 2 q.k for points q of the circle seen from arc.from, with q = base + s unit.
  const Vec2 k = arc.centre - arc.from;
  const double half = glm::dot(unit, k);
  const double power = glm::dot(base, base - 2.0 * k);
  const double discriminant = half * half - power;
  // Two places closer to each other than can be told are one tangency. A miss is one too when the gap between
  // line and circle is small: -discriminant = gap (gap + 2 r).
  if (discriminant <= tolerance_mm * tolerance_mm) {
    if (-discriminant <= tolerance_mm * (tolerance_mm + 2 * arc.radius)) add(arc.from + base + unit * half);
    return;
  }
  const double far = half + std::copysign(std::sqrt(discriminant), half);
  const double near = power / far;
  add(arc.from + base + unit * far);
  add(arc.from + base + unit * near);
}

void CarrierMeetings::add_line_and_arc(const Edge& line, const Edge& arc, double tolerance_mm) {
  const Vec2 unit = (line.to - line.from) / distance_mm(line.from, line.to);
  const Vec2 normal = turned_left(unit);
  add_line_and_circle(normal * glm::dot(normal, line.from - arc.from), unit, arc, tolerance_mm);
}

void CarrierMeetings::add_arcs(const Edge& a, const Edge& b, double tolerance_mm) {
  const Vec2 between = a.centre - b.centre;
  const double apart = std::hypot(between.x, between.y);
  if (apart == 0 || apart <= tolerance_mm) return;  // the same circle, or one inside the other
  // Common points lie on the radical line: both powers of the point, seen from a.from, subtracted.
  const Vec2 w = b.from - a.from;
  const double limit = -(glm::dot(w, w) / 2 + glm::dot(w, b.centre - b.from)) / apart;
  const Vec2 normal = between / apart;
  // A near miss of circles that lie close shows up magnified in the radical line.
  add_line_and_circle(normal * limit, turned_left(normal), a, tolerance_mm * (1 + b.radius / apart));
}

namespace {

/// Distance between `a` and `b` at the places of `a` where their carriers run side by side.
double side_by_side_squared(const Edge& a, const Edge& b) {
  double least = std::numeric_limits<double>::infinity();
  if (!a.is_arc()) return least;
  Vec2 across = b.is_arc() ? b.centre - a.centre : turned_left(b.to - b.from);
  const double length = std::hypot(across.x, across.y);
  if (length == 0) return least;
  across *= a.radius / length;
  for (const Vec2 spoke : {across, -across}) {
    const Vec2 from_start = a.centre - a.from + spoke;
    if (!arc_spans(a, from_start, a.centre - a.to + spoke)) continue;
    least = std::min(least, foot_on(b, foot_on(a, a.from + from_start).point).distance_squared);
  }
  return least;
}

}  // namespace

double edge_distance_mm(const Edge& a, const Edge& b) {
  double least = std::min({foot_on(a, b.from).distance_squared, foot_on(a, b.to).distance_squared,
                           foot_on(b, a.from).distance_squared, foot_on(b, a.to).distance_squared,
                           side_by_side_squared(a, b), side_by_side_squared(b, a)});
  if (least == 0) return 0;
  for (const Vec2 p : CarrierMeetings(a, b, 0)) {
    // A crossing is a place of both edges: its feet differ by rounding only, which is no distance.
    const Foot on_a = foot_on(a, p);
    const Foot on_b = foot_on(b, p);
    const double rounding = 1e-12 * (1 + std::sqrt(length_squared(p)));
    if (on_a.distance_squared <= rounding * rounding && on_b.distance_squared <= rounding * rounding)
      return 0;
  }
  return std::sqrt(least);
}

}  // namespace haftwright::geometry
