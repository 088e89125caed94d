// Edges that a plan triangulation must keep.
#include "plan_triangulation.hpp"

namespace haftwright::preview {
namespace {

constexpr int kDeepest = 40;  // of an edge split again and again by others

}  // namespace

void PlanTriangulation::mark(Place place, int curve) {
  Triangle& t = triangles_[place.triangle];
  const std::uint32_t other = t.beside[place.edge];
  t.tag[place.edge] = 2 * curve + 1;
  Triangle& u = triangles_[other];
  for (unsigned j = 0; j < 3; ++j)
    if (u.beside[j] == place.triangle) u.tag[j] = 2 * curve;
}

void PlanTriangulation::constrain(Corner from, Corner to, int curve) {
  Corner at = from;
  for (std::size_t guard = 0; at != to && guard < points_.size() + 64; ++guard) at = force(at, to, curve, 0);
}

/// Splits the constrained edge at `place` where the way from `from` to `to` crosses it; one of its own ends
/// where rounding leaves no room between.
PlanTriangulation::Corner PlanTriangulation::cross(Place place, Corner from, Corner to) {
  const Triangle& t = triangles_[place.triangle];
  const Corner a = t.corner[place.edge];
  const Corner b = t.corner[next(place.edge)];
  const Corner c = t.corner[previous(place.edge)];
  const double left = side(from, to, b);
  const double right = side(from, to, c);
  const double share = left / (left - right);
  const Corner nearer = share < 0.5 ? b : c;
  const Corner w = apex_over(place);
  const Corner p = new_point(points_[b] + (points_[c] - points_[b]) * share);
  const bool room = side(a, b, p) > 0 && side(p, c, a) > 0 && side(b, w, p) > 0 && side(w, c, p) > 0;
  if (room) {
    split_edge(place, p);
    return p;
  }
  points_.pop_back();
  grid_.pop_back();
  triangle_at_.pop_back();
  return nearer;
}

/// The corner of the triangle on the other side of an edge.
PlanTriangulation::Corner PlanTriangulation::apex_over(Place place) const {
  const Triangle& over = triangles_[triangles_[place.triangle].beside[place.edge]];
  return over.corner[place_of(over.beside, place.triangle)];
}

/// Looks for the way out of the triangles round `from`: a corner straight ahead is the answer; else the first
/// edge crossed goes into crossing_ and the answer is `from`.
PlanTriangulation::Corner PlanTriangulation::leave(Corner from, Corner to) {
  crossing_.clear();
  const std::uint32_t first = triangle_at_[from];
  std::uint32_t t = first;
  do {
    const Triangle& triangle = triangles_[t];
    const unsigned i = place_of(triangle.corner, from);
    const Corner right = triangle.corner[next(i)];
    const Corner left = triangle.corner[previous(i)];
    const double right_side = side(from, to, right);
    const bool ahead = glm::dot(grid_[right] - grid_[from], grid_[to] - grid_[from]) > 0;
    if (right == to || (right_side == 0 && ahead)) return right;
    if (right_side < 0 && side(from, to, left) > 0) {
      crossing_.push_back({right, left});
      return from;
    }
    t = triangle.beside[next(i)];
  } while (t != first && t != kNone);
  return to;
}

/// Goes on from the first edge in crossing_ and notes every further one, up to `to`, a corner on the way
/// (which is the answer) or an edge that must be kept.
PlanTriangulation::Corner PlanTriangulation::follow_crossings(Corner from, Corner to,
                                                              std::optional<Place>& kept) {
  for (;;) {
    const auto [right, left] = crossing_.back();
    const Place place = find_edge(right, left);
    if (triangles_[place.triangle].tag[place.edge] != kFree) {
      kept = place;
      return from;
    }
    const Corner apex = apex_over(place);
    const double apex_side = apex == to ? 0 : side(from, to, apex);
    if (apex_side == 0) return apex;
    crossing_.push_back(apex_side > 0 ? std::array{right, apex} : std::array{apex, left});
  }
}

/// Makes the edge from `from` toward `to`, as far as the next corner on the way, and returns that corner.
PlanTriangulation::Corner PlanTriangulation::force(Corner from, Corner to, int curve, int depth) {
  if (depth > kDeepest) return to;
  const Corner straight = leave(from, to);
  if (crossing_.empty()) {
    const Place place = find_edge(from, straight);
    if (place.triangle != kNone) mark(place, curve);
    return straight;
  }
  std::optional<Place> kept;
  const Corner end = follow_crossings(from, to, kept);
  if (kept) {
    const Corner by = cross(*kept, from, to);
    for (Corner at = from; at != by;) {
      const Corner reached = force(at, by, curve, depth + 1);
      if (reached == at) break;
      at = reached;
    }
    return by;
  }
  if (clear_way(from, end)) mark(find_edge(from, end), curve);
  return end;
}

/// Flips every edge of crossing_ out of the way; true when the edge from `from` to `end` is there then.
bool PlanTriangulation::clear_way(Corner from, Corner end) {
  const std::size_t most = 64 + crossing_.size() * crossing_.size() * 4;
  for (std::size_t k = 0; k < crossing_.size() && k < most; ++k) {
    const auto [right, left] = crossing_[k];
    const Place place = find_edge(right, left);
    if (place.triangle == kNone) continue;
    const Corner p = triangles_[place.triangle].corner[place.edge];
    const Corner q = apex_over(place);
    if (side(p, right, q) <= 0 || side(q, left, p) <= 0) {
      crossing_.push_back({right, left});  // not convex yet: its turn comes when its neighbours have flipped
      continue;
    }
    flip(place.triangle, place.edge);
    const double p_side = side(from, end, p);
    const double q_side = side(from, end, q);
    if (p_side * q_side < 0) crossing_.push_back(p_side < 0 ? std::array{p, q} : std::array{q, p});
  }
  return find_edge(from, end).triangle != kNone;
}

}  // namespace haftwright::preview
