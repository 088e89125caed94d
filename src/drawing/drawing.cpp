#include "haftwright/drawing/drawing.hpp"

#include <cmath>
#include <iterator>
#include <utility>

#include "haftwright/geometry/edge_measures.hpp"

namespace haftwright {
namespace {

constexpr std::string_view kRoleKeys[] = {"material",
                                          "steel",
                                          "plate",
                                          "marking",
                                          "defect",
                                          "visible_edge",
                                          "soft_edge",
                                          "contour",
                                          "hidden_edge",
                                          "context_edge",
                                          "centre_line",
                                          "projection_line",
                                          "joint_line",
                                          "hidden_joint_line",
                                          "set_line",
                                          "saw_cut",
                                          "opening",
                                          "cutout",
                                          "hole",
                                          "inner_hole",
                                          "steel_hole",
                                          "given_hole",
                                          "pin",
                                          "pin_bore",
                                          "fence",
                                          "hole_inside",
                                          "given_hole_inside",
                                          "cutout_inside",
                                          "pin_inside",
                                          "pin_bore_inside",
                                          "caption",
                                          "dimension",
                                          "chosen_dimension",
                                          "measured_place",
                                          "chosen",
                                          "alignment",
                                          "finding_pass",
                                          "finding_near",
                                          "finding_fail",
                                          "spread",
                                          "limit",
                                          "zone_pass",
                                          "zone_near",
                                          "zone_fail"};
static_assert(std::size(kRoleKeys) == kRoleCount);

std::vector<Edge> edges_along(const std::vector<Node>& nodes, bool closed) {
  std::vector<Edge> edges;
  const std::size_t count = nodes.size();
  for (std::size_t i = 0; i + (closed ? 0 : 1) < count; ++i) {
    const Vec2 to = nodes[(i + 1) % count].at;
    if (nodes[i].at != to) edges.emplace_back(nodes[i].at, to, nodes[i].bulge);
  }
  return edges;
}

Dimension linear(Vec2 from, Vec2 to, Vec2 along, Vec2 line_at, SheetLength offset, std::string words) {
  return {Dimension::Kind::linear, from, to, along, line_at, offset, std::move(words)};
}

}  // namespace

std::string_view key_of(Role role) {
  return kRoleKeys[static_cast<std::size_t>(role)];
}

Dimension aligned_dimension(Vec2 from, Vec2 to, SheetLength offset, std::string words) {
  const Vec2 along = from == to ? Vec2{1, 0} : glm::normalize(to - from);
  return linear(from, to, along, from, offset, std::move(words));
}
Dimension level_dimension(Vec2 from, Vec2 to, Vec2 line_at, SheetLength offset, std::string words) {
  return linear(from, to, {1, 0}, line_at, offset, std::move(words));
}
Dimension upright_dimension(Vec2 from, Vec2 to, Vec2 line_at, SheetLength offset, std::string words) {
  return linear(from, to, {0, 1}, line_at, offset, std::move(words));
}
Dimension diameter_dimension(Vec2 centre, double diameter_mm, double turn_rad, std::string words) {
  const Vec2 half = Vec2{std::cos(turn_rad), std::sin(turn_rad)} * (diameter_mm / 2);
  return {.kind = Dimension::Kind::diameter,
          .from = centre - half,
          .to = centre + half,
          .words = std::move(words)};
}

void Drawing::add(Role role, Shape shape, std::optional<std::size_t> tag) {
  items.push_back({std::move(shape), role, tag});
}

void Drawing::append(Drawing other, std::size_t first_tag) {
  items.reserve(items.size() + other.items.size());
  for (Item& item : other.items) {
    if (item.tag) *item.tag += first_tag;
    items.push_back(std::move(item));
  }
}

Stroke straight(Vec2 from, Vec2 to) {
  return {{{from, 0}, {to, 0}}, false};
}

Stroke open_line(const std::vector<Vec2>& points) {
  Stroke stroke;
  stroke.nodes.reserve(points.size());
  for (const Vec2 p : points) stroke.nodes.push_back({p, 0});
  return stroke;
}

Stroke outline_stroke(const Outline& outline) {
  return {outline.nodes(), true};
}

Fill outline_fill(const Outline& outline) {
  return {{outline.nodes()}, {}};
}

std::vector<Node> box_loop(Vec2 a, Vec2 b) {
  return {{a, 0}, {{b.x, a.y}, 0}, {b, 0}, {{a.x, b.y}, 0}};
}

std::vector<Edge> edges_of(const Stroke& stroke) {
  return edges_along(stroke.nodes, stroke.closed);
}

std::vector<Edge> edges_of(const std::vector<Node>& closed_loop) {
  return edges_along(closed_loop, true);
}

std::vector<Vec2> flattened(const Stroke& stroke, double tolerance_mm) {
  std::vector<Vec2> points;
  const std::vector<Edge> edges = edges_of(stroke);
  for (const Edge& edge : edges) add_points_along(edge, tolerance_mm, points);
  if (!stroke.closed && !edges.empty()) points.push_back(edges.back().to);
  return points;
}

}  // namespace haftwright
