#include "scale_body.hpp"

#include <numbers>

namespace haftwright::layout {

std::vector<Crossing> wall_places(const ScaleBody& body, const CutPlane& plane, double s) {
  std::vector<Crossing> places = crossings(body.edge(), {plane.x_at(0, s), 0}, {plane.tan_slant, 1});
  // A raked front face reaches ahead of its own line by as much as it leans over the whole height.
  const double reach = std::abs(body.front.tan_rake) * body.top_mm + 1e-6;
  const auto ahead = [&](const Crossing& place) {
    return body.front.behind_mm(place.point.x, place.point.y, s) < -reach;
  };
  std::size_t kept = 0;
  for (std::size_t i = 0; i + 1 < places.size(); i += 2) {
    if (ahead(places[i]) && ahead(places[i + 1])) continue;
    places[kept++] = places[i];
    places[kept++] = places[i + 1];
  }
  places.resize(kept);
  return places;
}

EdgeCrossings edge_crossings(const Edge& edge, const CutPlane& plane, double s, double depth_mm) {
  const auto behind = [&](Vec2 p) { return plane.behind_mm(p.x, p.y, s); };
  EdgeCrossings found;
  if (!edge.is_arc()) {
    const Vec2 in = depth_mm * turned_left(glm::normalize(edge.to - edge.from));
    const double from = behind(edge.from + in);
    const double to = behind(edge.to + in);
    if ((from < 0) != (to < 0)) found.t[found.count++] = from / (from - to);
    return found;
  }
  const double radius = edge.radius - std::copysign(depth_mm, edge.sweep);
  const double cosine = -behind(edge.centre) / (std::hypot(1, plane.tan_slant) * radius);
  if (!(radius > 0 && std::abs(cosine) < 1)) return found;
  const Vec2 start = edge.from - edge.centre;
  const double square_to_plane = std::atan2(-plane.tan_slant, 1) - std::atan2(start.y, start.x);
  const double away = std::acos(cosine);
  for (const double angle : {square_to_plane - away, square_to_plane + away}) {
    double t = std::remainder(angle, 2 * std::numbers::pi) / edge.sweep;
    if (t < 0) t += 2 * std::numbers::pi / std::abs(edge.sweep);
    if (t < 1) found.t[found.count++] = t;
  }
  return found;
}

Vec2 inward_normal(const Edge& edge, Vec2 on_edge) {
  if (!edge.is_arc()) return turned_left(glm::normalize(edge.to - edge.from));
  return (edge.centre - on_edge) * (edge.sweep > 0 ? 1 / edge.radius : -1 / edge.radius);
}

double inset_y_mm(const ScaleBody& body, double tan_slant, const Crossing& wall, double half_width_mm) {
  Nearest at;
  at.point = wall.point;
  at.edge = wall.edge;
  const double reach = body.surface.round_over_reach_mm(at);
  if (reach <= 0) return 0;
  const Edge& edge = body.edge().edges()[wall.edge];
  const Vec2 normal = inward_normal(edge, wall.point);
  const Vec2 inward = Vec2{tan_slant, 1} * (glm::dot(normal, Vec2{tan_slant, 1}) < 0 ? -1.0 : 1.0);
  // Along the ray wall.point + y inward, `depth` grows to the reach: the distance past the wall's tangent
  // less (round a convex arc) or more (round a hollow one) what the arc bends away from it.
  const double facing = glm::dot(normal, inward);
  double inset = facing > 0 ? reach / facing : half_width_mm;
  if (edge.is_arc() && inset < 1e6) {
    const double inner_radius = edge.sweep > 0 ? edge.radius - reach : edge.radius + reach;
    const Vec2 from_centre = wall.point - edge.centre;
    const double a = glm::dot(inward, inward);
    const double b = glm::dot(from_centre, inward);
    const double c = glm::dot(from_centre, from_centre) - inner_radius * inner_radius;
    const double root = b * b - a * c;
    if (inner_radius <= 0 || root < 0) return half_width_mm;
    inset = edge.sweep > 0 ? (-b - std::sqrt(root)) / a : (-b + std::sqrt(root)) / a;
  }
  return std::clamp(inset, 0.0, half_width_mm);
}

}  // namespace haftwright::layout
