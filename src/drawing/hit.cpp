#include "haftwright/drawing/hit.hpp"

#include <algorithm>
#include <limits>

#include "haftwright/drawing/dimension_lines.hpp"
#include "haftwright/geometry/edge_measures.hpp"
#include "haftwright/geometry/segment.hpp"

namespace haftwright {
namespace {

constexpr double kNowhere = std::numeric_limits<double>::infinity();

double to_edges_mm(const std::vector<Edge>& edges, Vec2 p) {
  double least = kNowhere;
  for (const Edge& edge : edges) least = std::min(least, distance_to_edge_mm(p, edge));
  return least;
}

/// Whether a ray from `p` along +x crosses the chords of a loop an odd number of times.
bool within_chords(const std::vector<Edge>& edges, Vec2 p) {
  bool inside = false;
  for (const Edge& edge : edges) {
    if ((edge.from.y > p.y) == (edge.to.y > p.y)) continue;
    const double share = (p.y - edge.from.y) / (edge.to.y - edge.from.y);
    if (edge.from.x + share * (edge.to.x - edge.from.x) > p.x) inside = !inside;
  }
  return inside;
}

/// Whether `p` lies between an arc and its chord. The arc is on the right of a chord that it leaves
/// counter-clockwise.
bool within_segment(const Edge& edge, Vec2 p) {
  if (!edge.is_arc() || glm::distance(p, edge.centre) > edge.radius) return false;
  return cross(edge.to - edge.from, p - edge.from) * edge.bulge < 0;
}

bool contains(const std::vector<Edge>& edges, Vec2 p) {
  bool inside = within_chords(edges, p);
  for (const Edge& edge : edges)
    if (within_segment(edge, p)) inside = !inside;
  return inside;
}

double to_box_mm(const std::array<Vec2, 4>& corners, Vec2 p) {
  const Vec2 way = corners[1] - corners[0];
  const Vec2 up = corners[3] - corners[0];
  const auto between = [](double share, double whole) { return share >= 0 && share <= whole; };
  if (between(glm::dot(p - corners[0], way), glm::dot(way, way)) &&
      between(glm::dot(p - corners[0], up), glm::dot(up, up)))
    return 0;
  double least = kNowhere;
  for (std::size_t i = 0; i < 4; ++i)
    least = std::min(least, distance_to_segment_mm(p, corners[i], corners[(i + 1) % 4]));
  return least;
}

double distance_of(const Stroke& stroke, Vec2 p, double) {
  return to_edges_mm(edges_of(stroke), p);
}

double distance_of(const Circle& circle, Vec2 p, double mm_per_point) {
  return std::max(0.0, glm::distance(p, circle.centre) - circle.radius.in_mm(mm_per_point));
}

double distance_of(const Fill& fill, Vec2 p, double) {
  bool inside = false;
  double least = kNowhere;
  for (const std::vector<Node>& loop : fill.loops) {
    const std::vector<Edge> edges = edges_of(loop);
    inside = inside != contains(edges, p);
    least = std::min(least, to_edges_mm(edges, p));
  }
  return inside ? 0 : least;
}

double distance_of(const Band& band, Vec2 p, double mm_per_point) {
  const auto& [a, b] = band;
  return distance_of(Fill{.loops = {{{a[0], 0}, {a[2], 0}, {b[2], 0}, {b[0], 0}}}}, p, mm_per_point);
}

double distance_of(const Text& text, Vec2 p, double mm_per_point) {
  return to_box_mm(text_box(text, mm_per_point), p);
}

double distance_of(const Dimension& dimension, Vec2 p, double mm_per_point) {
  const DimensionLines lines = dimension_lines(dimension, mm_per_point);
  double least = kNowhere;
  for (const auto& [a, b] : lines.lines) least = std::min(least, distance_to_segment_mm(p, a, b));
  if (lines.ring) least = std::min(least, distance_of(*lines.ring, p, mm_per_point));
  if (lines.text) least = std::min(least, distance_of(*lines.text, p, mm_per_point));
  return least;
}

}  // namespace

double distance_mm(const Shape& shape, Vec2 point, double mm_per_point) {
  return std::visit([&](const auto& one) { return distance_of(one, point, mm_per_point); }, shape);
}

std::optional<std::size_t> item_at(const Drawing& drawing, Vec2 point, double reach_mm, double mm_per_point) {
  std::optional<std::size_t> nearest;
  std::optional<std::size_t> area;
  double least = reach_mm;
  for (std::size_t i = 0; i < drawing.items.size(); ++i) {
    const Item& item = drawing.items[i];
    if (!item.tag) continue;
    const double distance = distance_mm(item.shape, point, mm_per_point);
    if (std::holds_alternative<Fill>(item.shape) || std::holds_alternative<Band>(item.shape)) {
      if (distance == 0) area = i;
    } else if (distance <= least) {
      nearest = i;
      least = distance;
    }
  }
  return nearest ? nearest : area;
}

}  // namespace haftwright
