// One edge: where a point stands to it, its bounds, its parts. All formulas work from the edge's ends and not
// from the circle's equation, so that an almost straight arc of a huge radius loses no digits.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

inline double length_squared(Vec2 v) {
  return glm::dot(v, v);
}
inline double distance_mm(Vec2 a, Vec2 b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}
/// v turned counter-clockwise by an angle.
inline Vec2 turned(Vec2 v, double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {v.x * c - v.y * s, v.x * s + v.y * c};
}

/// True when the ray from the arc's centre along `u` (of any length) meets the arc. `u_from` and `u_to` are
/// the same ray's head seen from the arc's two ends; passing them keeps huge radii exact.
inline bool arc_spans(const Edge& arc, Vec2 u_from, Vec2 u_to) {
  const double turn = arc.bulge > 0 ? 1 : -1;
  const double after_start = turn * cross(arc.from - arc.centre, u_from);
  const double before_end = turn * cross(u_to, arc.to - arc.centre);
  if (std::abs(arc.bulge) <= 1) return after_start >= 0 && before_end >= 0;
  return after_start >= 0 || before_end >= 0;
}

/// True when the foot of `p` on the arc's circle lies on the arc.
inline bool arc_spans_point(const Edge& arc, Vec2 p) {
  return arc_spans(arc, p - arc.from, p - arc.to);
}

/// Signed distance of `p` from the arc's whole circle, positive outside, by the power of the point.
inline double circle_distance_mm(const Edge& arc, Vec2 p) {
  const Vec2 q = p - arc.from;
  const double power = glm::dot(q, q - 2.0 * (arc.centre - arc.from));
  return power / (std::sqrt(length_squared(p - arc.centre)) + arc.radius);
}

struct Foot {
  double distance_squared = std::numeric_limits<double>::infinity();
  Vec2 point{0, 0};
};

inline Foot nearer_end(const Edge& edge, Vec2 p) {
  const double a = length_squared(p - edge.from);
  const double b = length_squared(p - edge.to);
  return a <= b ? Foot{a, edge.from} : Foot{b, edge.to};
}

/// Nearest point of the edge, without trigonometry.
inline Foot foot_on(const Edge& edge, Vec2 p) {
  if (!edge.is_arc()) {
    const Vec2 chord = edge.to - edge.from;
    const double along = glm::dot(p - edge.from, chord);
    const double whole = length_squared(chord);
    if (along <= 0) return {length_squared(p - edge.from), edge.from};
    if (along >= whole) return {length_squared(p - edge.to), edge.to};
    const double across = cross(chord, p - edge.from);
    return {across * across / whole, edge.from + chord * (along / whole)};
  }
  if (!arc_spans_point(edge, p)) return nearer_end(edge, p);
  const Vec2 spoke = p - edge.centre;
  const double reach = std::sqrt(length_squared(spoke));
  if (reach == 0) return {edge.radius * edge.radius, edge.from};
  const double beyond = circle_distance_mm(edge, p);
  return {beyond * beyond, p - spoke * (beyond / reach)};
}

/// Parameter of a point that lies on the edge, within 0 to 1.
inline double parameter_of(const Edge& edge, Vec2 on_edge) {
  if (on_edge == edge.from) return 0;
  if (on_edge == edge.to) return 1;
  const Vec2 v = on_edge - edge.from;
  if (!edge.is_arc()) {
    const Vec2 chord = edge.to - edge.from;
    return std::clamp(glm::dot(v, chord) / length_squared(chord), 0.0, 1.0);
  }
  // The chords from the point to both ends are as the sines of half the angles they span: near straight arcs
  // keep all digits.
  const double before = std::sqrt(length_squared(v));
  const double after = std::sqrt(length_squared(edge.to - on_edge));
  const double b = std::abs(edge.bulge);
  const double sine = 2 * b / (1 + b * b);  // of half the sweep
  const double cosine = (1 - b * b) / (1 + b * b);
  return std::clamp(2 * std::atan2(before * sine, after + before * cosine) / std::abs(edge.sweep), 0.0, 1.0);
}

/// The tight box round the edge.
Bounds bounds_of(const Edge& edge);

inline void include(Bounds& box, Vec2 p) {
  box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
  box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
}
inline void include(Bounds& box, const Bounds& other) {
  include(box, other.low);
  include(box, other.high);
}
inline double box_distance_squared(const Bounds& box, Vec2 p) {
  const double dx = std::max({box.low.x - p.x, 0.0, p.x - box.high.x});
  const double dy = std::max({box.low.y - p.y, 0.0, p.y - box.high.y});
  return dx * dx + dy * dy;
}

/// Area and moments of an edge's circular segment (between arc and chord), or all zero for a line.
/// `area_mm2` is signed: positive when it adds to a counter-clockwise chain. `first` and the second moments
/// are about the chord's midpoint.
struct SegmentIntegrals {
  double area_mm2 = 0;
  Vec2 first{0, 0};
  double xx = 0;
  double yy = 0;
  double xy = 0;
};
SegmentIntegrals segment_integrals(const Edge& edge);

/// Signed area of a closed chain's edges.
template <class Edges>
double signed_area_mm2(const Edges& edges, Vec2 about) {
  double area = 0;
  for (const Edge& edge : edges) {
    area += cross(edge.from - about, edge.to - about) / 2 + segment_integrals(edge).area_mm2;
  }
  return area;
}

}  // namespace haftwright::geometry
