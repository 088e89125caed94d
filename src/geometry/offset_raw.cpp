#include <cmath>

#include "chain_parts.hpp"
#include "offset_pieces.hpp"
#include "tolerances.hpp"

namespace haftwright::geometry {

namespace {

// Turns within this of a half turn are cusps, whose side the directions alone can't tell.
constexpr double kCusp = 1e-6;

double curvature(const Edge& edge) {
  return edge.is_arc() ? std::copysign(1 / edge.radius, edge.bulge) : 0;
}

/// Signed turn from the end of one edge to the start of the next, positive to the left.
double turn_between(const Edge& before, const Edge& after) {
  const Vec2 in = before.direction(1);
  const Vec2 out = after.direction(0);
  const double turn = std::atan2(cross(in, out), glm::dot(in, out));
  if (std::abs(turn) < kPi - kCusp) return turn;
  // Both edges leave the cusp the same way; the inside lies between them when the second bends away to the
  // right of the first.
  return std::copysign(turn, -curvature(before) - curvature(after));
}

}  // namespace

std::vector<Edge> raw_offset_edges(const Outline& outline, double outward_mm) {
  const std::vector<Edge>& edges = outline.edges();
  std::vector<Edge> raw;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const Edge& edge = edges[i];
    const Edge& next = edges[(i + 1) % edges.size()];
    const auto outward = [outward_mm](Vec2 direction) { return turned_left(direction) * -outward_mm; };
    const Vec2 end = edge.to + outward(edge.direction(1));
    // An arc that shrinks past its centre has no place at the distance from it.
    const double growth = edge.bulge > 0 ? outward_mm : -outward_mm;
    if (!edge.is_arc() || edge.radius + growth > kLeastEdge_mm) {
      raw.emplace_back(edge.from + outward(edge.direction(0)), end, edge.bulge);
    }
    const double turn = turn_between(edge, next);
    const Vec2 next_start = next.from + outward(next.direction(0));
    if (turn * outward_mm > 0 && distance_mm(end, next_start) > kLeastEdge_mm) {
      raw.emplace_back(end, next_start, std::tan(turn / 4));
    }
  }
  return raw;
}

}  // namespace haftwright::geometry
