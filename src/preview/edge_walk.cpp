#include "edge_walk.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "haftwright/geometry/outline_ops.hpp"
#include "plan_curves.hpp"

namespace haftwright::preview {

EdgePlace place_near(const Outline& outline, Vec2 p) {
  const Nearest nearest = outline.nearest(p);
  return {nearest.edge, nearest.t};
}

Vec2 point_at(const Outline& outline, EdgePlace place) {
  return outline.edges()[place.edge].point(place.t);
}

EdgePlace rearmost(const Outline& outline) {
  EdgePlace best;
  double farthest = -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < outline.edges().size(); ++i) {
    const Edge& edge = outline.edges()[i];
    const auto look = [&](double t) {
      if (edge.point(t).x <= farthest) return;
      farthest = edge.point(t).x;
      best = {i, t};
    };
    look(0);
    if (!edge.is_arc()) continue;
    // Where the arc runs along y.
    if (const auto t = place_on(edge, edge.centre + Vec2{edge.radius, 0})) look(*t);
  }
  return best;
}

std::vector<EdgePlace> walk(const Outline& outline, EdgePlace from, EdgePlace to, double deviation_mm,
                            double most_mm) {
  std::vector<EdgePlace> places{from};
  const std::size_t count = outline.edges().size();
  EdgePlace at = from;
  for (std::size_t guard = 0; guard <= count; ++guard) {
    const Edge& edge = outline.edges()[at.edge];
    const bool last = at.edge == to.edge && to.t >= at.t;
    const double end = last ? to.t : 1;
    double step = most_mm;
    if (edge.is_arc())
      step = std::min(step, 2 * edge.radius * std::acos(std::max(0.0, 1 - deviation_mm / edge.radius)));
    const double parts = std::max(1.0, std::ceil((end - at.t) * edge.length() / step));
    for (int k = 1; k <= parts; ++k) places.push_back({at.edge, at.t + (end - at.t) * k / parts});
    if (last) break;
    at = {(at.edge + 1) % count, 0};
  }
  return places;
}

std::vector<Node> stretch_between(const Outline& outline, EdgePlace from, EdgePlace to) {
  std::vector<Node> nodes;
  const std::size_t count = outline.edges().size();
  EdgePlace at = from;
  for (std::size_t guard = 0; guard <= count; ++guard) {
    const Edge& edge = outline.edges()[at.edge];
    const bool last = at.edge == to.edge && to.t >= at.t;
    const double end = last ? to.t : 1;
    if (end > at.t) nodes.push_back({edge.point(at.t), std::tan(edge.sweep * (end - at.t) / 4)});
    if (last) break;
    at = {(at.edge + 1) % count, 0};
  }
  nodes.push_back({point_at(outline, to), 0});
  return nodes;
}

Vec2 edge_point(const SideLayout& side, const CutPlane& plane, double s, bool at_spine) {
  const std::vector<Crossing> found = crossings(side.edge, {plane.x_at(0, s), 0}, {plane.tan_slant, 1});
  if (!found.empty()) return at_spine ? found.back().point : found.front().point;
  // The plane leaves the plan below this height: its last place on the edge will do for a drawing.
  const double y = at_spine ? side.edge.bounds().high.y : side.edge.bounds().low.y;
  return side.edge.nearest({plane.x_at(y, s), y}).point;
}

}  // namespace haftwright::preview
