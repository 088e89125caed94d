#include "plan_triangulation.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright::preview {
namespace {

constexpr double kGridSteps = 8388608;  // 2^23: products of differences stay whole numbers below 2^53

}  // namespace

void PlanTriangulation::start(const Bounds& bounds) {
  const Vec2 size = bounds.size();
  const double extent = std::max({size.x, size.y, 1e-6});
  low_ = bounds.low;
  scale_ = (kGridSteps - 1) / extent;
  points_.clear();
  grid_.clear();
  triangle_at_.clear();
  triangles_.clear();
  for (const Vec2 corner : {Vec2{-1, -1}, Vec2{2, -1}, Vec2{2, 2}, Vec2{-1, 2}}) {
    points_.push_back(low_ + corner * extent);
    grid_.push_back(corner * kGridSteps);
    triangle_at_.push_back(0);
  }
  triangles_.push_back({{0, 1, 2}, {kNone, 1, kNone}});
  triangles_.push_back({{0, 2, 3}, {kNone, kNone, 0}});
  triangle_at_[3] = 1;
  last_ = 0;
}

/// Twice the area of (a, b, c), exact: positive when c lies to the left of a to b.
double PlanTriangulation::side(Corner a, Corner b, Corner c) const {
  return haftwright::cross(grid_[b] - grid_[a], grid_[c] - grid_[a]);
}

/// True when d lies inside the circle through the triangle by more than rounding can pretend.
bool PlanTriangulation::in_circle(const Triangle& t, Corner d) const {
  const Vec2 a = grid_[t.corner[0]] - grid_[d];
  const Vec2 b = grid_[t.corner[1]] - grid_[d];
  const Vec2 c = grid_[t.corner[2]] - grid_[d];
  const double bc = b.x * c.y - c.x * b.y;
  const double ca = c.x * a.y - a.x * c.y;
  const double ab = a.x * b.y - b.x * a.y;
  const double lift_a = glm::dot(a, a) * bc;
  const double lift_b = glm::dot(b, b) * ca;
  const double lift_c = glm::dot(c, c) * ab;
  constexpr double rounding = 8 * 0x1p-53;
  return lift_a + lift_b + lift_c > rounding * (std::abs(lift_a) + std::abs(lift_b) + std::abs(lift_c));
}

PlanTriangulation::Corner PlanTriangulation::new_point(Vec2 p) {
  const Vec2 steps = (p - low_) * scale_;
  points_.push_back(p);
  grid_.push_back({std::round(steps.x), std::round(steps.y)});
  triangle_at_.push_back(kNone);
  return static_cast<Corner>(points_.size() - 1);
}

std::uint32_t PlanTriangulation::new_triangle() {
  triangles_.emplace_back();
  return static_cast<std::uint32_t>(triangles_.size() - 1);
}

/// The triangle that holds the point, its edges included.
std::uint32_t PlanTriangulation::locate(Corner p) {
  std::uint32_t t = last_;
  for (std::size_t steps = 0; steps < triangles_.size() + 8; ++steps) {
    const Triangle& triangle = triangles_[t];
    unsigned out = 3;
    for (unsigned i = 0; i < 3 && out == 3; ++i)
      if (side(triangle.corner[next(i)], triangle.corner[previous(i)], p) < 0) out = i;
    if (out == 3) return t;
    t = triangle.beside[out];
  }
  // The walk may go in circles where rounding left the triangulation short of Delaunay.
  for (t = 0; t < triangles_.size(); ++t) {
    const Triangle& triangle = triangles_[t];
    if (side(triangle.corner[0], triangle.corner[1], p) >= 0 &&
        side(triangle.corner[1], triangle.corner[2], p) >= 0 &&
        side(triangle.corner[2], triangle.corner[0], p) >= 0)
      break;
  }
  return t;
}

PlanTriangulation::Corner PlanTriangulation::add(Vec2 p) {
  const Corner corner = new_point(p);
  const std::uint32_t t = locate(corner);
  const Triangle& triangle = triangles_[t];
  unsigned on_edges = 0;
  unsigned edge = 0;
  for (unsigned i = 0; i < 3; ++i) {
    if (side(triangle.corner[next(i)], triangle.corner[previous(i)], corner) != 0) continue;
    edge = on_edges == 0 ? i : 3 - edge - i;  // on two edges: the corner between them
    ++on_edges;
  }
  last_ = t;
  if (on_edges == 2) {
    points_.pop_back();
    grid_.pop_back();
    triangle_at_.pop_back();
    return triangle.corner[edge];
  }
  if (on_edges == 1)
    split_edge({t, edge}, corner);
  else
    split_triangle(t, corner);
  return corner;
}

void PlanTriangulation::add(std::span<const Vec2> points, std::vector<Corner>& corners) {
  corners.resize(points.size());
  // A coarse net first, then ever finer ones: neighbours in the list are neighbours in the plan, so that each
  // walk is short, and no point sees a fan of slivers.
  constexpr std::size_t coarsest = 64;
  for (std::size_t i = 0; i < points.size(); i += coarsest) corners[i] = add(points[i]);
  for (std::size_t stride = coarsest / 4; stride > 0; stride /= 4)
    for (std::size_t i = 0; i < points.size(); i += stride)
      if (i % (stride * 4) != 0) corners[i] = add(points[i]);
}

void PlanTriangulation::set_beside(std::uint32_t triangle, std::uint32_t was, std::uint32_t is) {
  if (triangle == kNone) return;
  for (std::uint32_t& beside : triangles_[triangle].beside)
    if (beside == was) {
      beside = is;
      return;
    }
}

/// Joins triangles whose first corner is `middle`, in order round it.
void PlanTriangulation::fan(Corner middle, std::span<const std::uint32_t> triangles) {
  for (std::size_t k = 0; k < triangles.size(); ++k) {
    Triangle& t = triangles_[triangles[k]];
    t.beside[1] = triangles[(k + 1) % triangles.size()];
    t.beside[2] = triangles[(k + triangles.size() - 1) % triangles.size()];
    triangle_at_[t.corner[1]] = triangles[k];
  }
  triangle_at_[middle] = triangles[0];
}

void PlanTriangulation::split_triangle(std::uint32_t t, Corner p) {
  const std::array<std::uint32_t, 3> parts{t, new_triangle(), new_triangle()};
  const Triangle old = triangles_[t];
  for (unsigned i = 0; i < 3; ++i) {
    triangles_[parts[i]] = {{p, old.corner[next(i)], old.corner[previous(i)]},
                            {old.beside[i], kNone, kNone},
                            {old.tag[i], kFree, kFree}};
    set_beside(old.beside[i], t, parts[i]);
  }
  // A neighbour over more than one edge can't be: the three edges have different ends.
  fan(p, parts);
  for (const std::uint32_t part : parts) legalise(p, part);
}

void PlanTriangulation::split_edge(Place place, Corner p) {
  const Triangle t = triangles_[place.triangle];
  const unsigned i = place.edge;
  const std::uint32_t other = t.beside[i];
  const Triangle u = triangles_[other];
  const unsigned j = place_of(u.beside, place.triangle);
  const Corner a = t.corner[i];
  const Corner b = t.corner[next(i)];
  const Corner c = t.corner[previous(i)];
  const Corner w = u.corner[j];
  const std::array<std::uint32_t, 4> parts{place.triangle, new_triangle(), other, new_triangle()};
  // u runs (w, c, b): next(j) is c, previous(j) is b.
  triangles_[parts[0]] = {{p, c, a}, {t.beside[next(i)], kNone, kNone}, {t.tag[next(i)], kFree, t.tag[i]}};
  triangles_[parts[1]] = {
      {p, a, b}, {t.beside[previous(i)], kNone, kNone}, {t.tag[previous(i)], t.tag[i], kFree}};
  triangles_[parts[2]] = {{p, b, w}, {u.beside[next(j)], kNone, kNone}, {u.tag[next(j)], kFree, u.tag[j]}};
  triangles_[parts[3]] = {
      {p, w, c}, {u.beside[previous(j)], kNone, kNone}, {u.tag[previous(j)], u.tag[j], kFree}};
  set_beside(t.beside[previous(i)], place.triangle, parts[1]);
  set_beside(u.beside[previous(j)], other, parts[3]);
  fan(p, parts);
  for (const std::uint32_t part : parts) legalise(p, part);
}

/// Flips edges opposite p, from triangle `first` (which has p as its first corner) outward, until all are
/// Delaunay.
void PlanTriangulation::legalise(Corner p, std::uint32_t first) {
  stack_.assign(1, first);
  while (!stack_.empty()) {
    const std::uint32_t t = stack_.back();
    stack_.pop_back();
    const Triangle& triangle = triangles_[t];
    if (triangle.corner[0] != p || triangle.tag[0] != kFree || triangle.beside[0] == kNone) continue;
    const std::uint32_t other = triangle.beside[0];
    const Triangle& u = triangles_[other];
    const unsigned j = place_of(u.beside, t);
    if (!in_circle(triangle, u.corner[j])) continue;
    flip(t, 0);
    stack_.push_back(t);
    stack_.push_back(other);
  }
}

/// Turns the edge of t opposite its corner `edge` into the other diagonal. Both triangles then begin with
/// that corner.
void PlanTriangulation::flip(std::uint32_t t, unsigned edge) {
  const Triangle old = triangles_[t];
  const std::uint32_t other = old.beside[edge];
  const Triangle u = triangles_[other];
  const unsigned j = place_of(u.beside, t);
  const unsigned i1 = next(edge);
  const unsigned i2 = previous(edge);
  const unsigned j1 = next(j);      // u runs (w, c, b): opposite c lies the edge from b to w,
  const unsigned j2 = previous(j);  // opposite b that from w to c
  const Corner v = old.corner[edge];
  const Corner b = old.corner[i1];
  const Corner c = old.corner[i2];
  const Corner w = u.corner[j];
  triangles_[t] = {{v, b, w}, {u.beside[j1], other, old.beside[i2]}, {u.tag[j1], kFree, old.tag[i2]}};
  triangles_[other] = {{v, w, c}, {u.beside[j2], old.beside[i1], t}, {u.tag[j2], old.tag[i1], kFree}};
  set_beside(u.beside[j1], other, t);
  set_beside(old.beside[i1], t, other);
  triangle_at_[v] = t;
  triangle_at_[b] = t;
  triangle_at_[w] = t;
  triangle_at_[c] = other;
}

/// The edge from a to b in the triangle that has it counter-clockwise; triangle kNone when there is none.
PlanTriangulation::Place PlanTriangulation::find_edge(Corner a, Corner b) const {
  const std::uint32_t first = triangle_at_[a];
  std::uint32_t t = first;
  do {
    const Triangle& triangle = triangles_[t];
    const unsigned i = place_of(triangle.corner, a);
    if (triangle.corner[next(i)] == b) return {t, previous(i)};
    t = triangle.beside[next(i)];
  } while (t != first && t != kNone);
  if (t == first) return {kNone, 0};
  // A corner of the square: the triangles do not go all the way round it.
  for (t = first; t != kNone;) {
    const Triangle& triangle = triangles_[t];
    const unsigned i = place_of(triangle.corner, a);
    if (triangle.corner[next(i)] == b) return {t, previous(i)};
    t = triangle.beside[previous(i)];
  }
  return {kNone, 0};
}

double PlanTriangulation::area(const Triangle& t) const {
  return side(t.corner[0], t.corner[1], t.corner[2]);
}

/// Number of the region of each triangle.
std::vector<std::uint32_t> PlanTriangulation::regions() const {
  std::vector<std::uint32_t> region(triangles_.size(), kNone);
  std::vector<std::uint32_t> open;
  std::uint32_t count = 0;
  for (std::uint32_t seed = 0; seed < triangles_.size(); ++seed) {
    if (region[seed] != kNone) continue;
    open.assign(1, seed);
    region[seed] = count;
    while (!open.empty()) {
      const Triangle& t = triangles_[open.back()];
      open.pop_back();
      for (unsigned i = 0; i < 3; ++i) {
        const std::uint32_t beside = t.beside[i];
        if (beside == kNone || t.tag[i] != kFree || region[beside] != kNone) continue;
        region[beside] = count;
        open.push_back(beside);
      }
    }
    ++count;
  }
  return region;
}

PlanTriangulation::Kept PlanTriangulation::collect(const std::vector<std::uint32_t>& region_of,
                                                   const std::vector<char>& keep) const {
  Kept kept;
  kept.triangles.reserve(triangles_.size());
  for (std::size_t k = 0; k < triangles_.size(); ++k) {
    if (!keep[region_of[k]]) continue;
    const Triangle& t = triangles_[k];
    kept.triangles.push_back(t.corner);
    for (unsigned i = 0; i < 3; ++i)
      if (t.tag[i] != kFree && !keep[region_of[t.beside[i]]])
        kept.boundary.push_back({t.corner[next(i)], t.corner[previous(i)], t.tag[i] / 2});
  }
  return kept;
}

PlanTriangulation::Kept PlanTriangulation::keep_where(const std::function<bool(Vec2)>& inside) const {
  const std::vector<std::uint32_t> region_of = regions();
  std::vector<std::uint32_t> largest;
  for (std::uint32_t k = 0; k < triangles_.size(); ++k) {
    const std::uint32_t region = region_of[k];
    if (region >= largest.size()) largest.resize(region + 1, kNone);
    if (largest[region] == kNone || area(triangles_[k]) > area(triangles_[largest[region]]))
      largest[region] = k;
  }
  std::vector<char> keep(largest.size(), 0);
  // The region that reaches the square round the plan is outside, whatever is asked.
  for (std::size_t region = 0; region < largest.size(); ++region) {
    const auto& corner = triangles_[largest[region]].corner;
    if (region == region_of[triangle_at_[0]]) continue;
    keep[region] = inside((points_[corner[0]] + points_[corner[1]] + points_[corner[2]]) / 3.0);
  }
  return collect(region_of, keep);
}

PlanTriangulation::Kept PlanTriangulation::keep_left() const {
  const std::vector<std::uint32_t> region_of = regions();
  std::vector<char> keep(triangles_.size(), 0);
  for (std::size_t k = 0; k < triangles_.size(); ++k)
    for (const std::int32_t tag : triangles_[k].tag)
      if (tag != kFree && tag % 2 == 1) keep[region_of[k]] = 1;
  return collect(region_of, keep);
}

}  // namespace haftwright::preview
