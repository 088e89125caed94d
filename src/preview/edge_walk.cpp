#include "edge_walk.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "haftwright/geometry/outline_ops.hpp"
#include "plan_curves.hpp"

namespace haftwright::preview {
namespace {

/// Calls visit(from where, up to which parameter of that edge) for each edge on the way, in its direction.
template <class Visit>
void each_stretch(const Outline& outline, EdgePlace from, EdgePlace to, Visit&& visit) {
  const std::size_t count = outline.edges().size();
  EdgePlace at = from;
  // Once round, and the first edge again where the way ends before it began.
  for (std::size_t seen = 0; seen <= count; ++seen) {
    const bool last = at.edge == to.edge && to.t >= at.t;
    visit(at, last ? to.t : 1.0);
    if (last) return;
    at = {(at.edge + 1) % count, 0};
  }
}

}  // namespace

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
  each_stretch(outline, from, to, [&](EdgePlace at, double end) {
    const Edge& edge = outline.edges()[at.edge];
    double step = most_mm;
    if (edge.is_arc())
      step = std::min(step, 2 * edge.radius * std::acos(std::max(0.0, 1 - deviation_mm / edge.radius)));
    const double parts = std::max(1.0, std::ceil((end - at.t) * edge.length() / step));
    for (int k = 1; k <= parts; ++k) places.push_back({at.edge, at.t + (end - at.t) * k / parts});
  });
  return places;
}

std::vector<Node> stretch_between(const Outline& outline, EdgePlace from, EdgePlace to) {
  std::vector<Node> nodes;
  each_stretch(outline, from, to, [&](EdgePlace at, double end) {
    const Edge& edge = outline.edges()[at.edge];
    if (end > at.t) nodes.push_back({edge.point(at.t), std::tan(edge.sweep * (end - at.t) / 4)});
  });
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
