#include "nesting/checker.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright::test {

namespace {

std::int64_t micrometres(double mm) {
  return std::llround(mm * 1000);
}

std::int64_t turn_of(GridPoint a, GridPoint b, GridPoint c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

std::int64_t distance_2(GridPoint a, GridPoint b) {
  return (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y);
}

/// The point is nearer to the segment than `gap`, exactly.
bool point_near(GridPoint p, GridPoint a, GridPoint b, std::int64_t gap) {
  const std::int64_t along = (p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y);
  const std::int64_t length_2 = distance_2(a, b);
  if (along <= 0) return distance_2(p, a) < gap * gap;
  if (along >= length_2) return distance_2(p, b) < gap * gap;
  const Wide area = turn_of(a, b, p);
  return area * area < Wide{gap} * gap * length_2;
}

bool borders_near(const GridPath& a, const GridPath& b, std::int64_t gap) {
  for (std::size_t i = 0; i < a.size(); ++i)
    for (std::size_t j = 0; j < b.size(); ++j) {
      const GridPoint &p = a[i], &q = a[(i + 1) % a.size()], &r = b[j], &s = b[(j + 1) % b.size()];
      if (point_near(p, r, s, gap) || point_near(r, p, q, gap)) return true;
    }
  return false;
}

GridPath wrapped(const GridPath& points) {
  GridPath hull;
  GridPoint at = *std::min_element(points.begin(), points.end(), [](GridPoint a, GridPoint b) {
    return a.y != b.y ? a.y < b.y : a.x < b.x;
  });
  const GridPoint start = at;
  do {
    hull.push_back(at);
    GridPoint best = at;
    for (const GridPoint p : points) {
      if (p == at) continue;
      const std::int64_t turn = best == at ? -1 : turn_of(at, best, p);
      if (turn < 0 || (turn == 0 && distance_2(at, p) > distance_2(at, best))) best = p;
    }
    at = best;
  } while (!(at == start) && hull.size() <= points.size());
  return hull;
}

}  // namespace

GridPath grid_path(const nesting::Polygon& polygon) {
  GridPath path;
  for (const Vec2 p : polygon) path.push_back({micrometres(p.x), micrometres(p.y)});
  Wide twice = 0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const GridPoint a = path[i], b = path[(i + 1) % path.size()];
    twice += Wide{a.x} * b.y - Wide{b.x} * a.y;
  }
  if (twice < 0) std::reverse(path.begin(), path.end());
  return path;
}

GridPath laid(const nesting::Polygon& shape, Vec2 at_mm, double angle_deg) {
  const double angle = std::remainder(angle_deg, 360.0);
  double c = std::cos(angle * (std::numbers::pi / 180)), s = std::sin(angle * (std::numbers::pi / 180));
  if (std::remainder(angle, 90.0) == 0) {
    c = std::round(c);
    s = std::round(s);
  }
  GridPath path;
  for (const Vec2 p : shape) path.push_back({micrometres(p.x * c - p.y * s), micrometres(p.x * s + p.y * c)});
  path = wrapped(path);
  for (GridPoint& p : path) p = {p.x + micrometres(at_mm.x), p.y + micrometres(at_mm.y)};
  return path;
}

bool inside_meets(const GridPath& convex, GridPoint a, GridPoint b) {
  // The part of the segment from `from` to `to`, as fractions with positive denominators.
  Wide from = 0, from_of = 1, to = 1, to_of = 1;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Wide u = turn_of(convex[i], convex[(i + 1) % convex.size()], a);
    const Wide v = turn_of(convex[i], convex[(i + 1) % convex.size()], b);
    if (u <= 0 && v <= 0) return false;
    if (u >= 0 && v >= 0) continue;
    if (u < 0 && -u * from_of > from * (v - u)) {
      from = -u;
      from_of = v - u;
    }
    if (v < 0 && u * to_of < to * (u - v)) {
      to = u;
      to_of = u - v;
    }
  }
  return from * to_of < to * from_of;
}

bool holds_point(const GridPath& polygon, GridPoint p) {
  int winding = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const GridPoint a = polygon[i], b = polygon[(i + 1) % polygon.size()];
    const std::int64_t turn = turn_of(a, b, p);
    if (turn == 0 && (p.x - a.x) * (p.x - b.x) <= 0 && (p.y - a.y) * (p.y - b.y) <= 0) return true;
    if (a.y <= p.y && b.y > p.y && turn > 0) ++winding;
    if (a.y > p.y && b.y <= p.y && turn < 0) --winding;
  }
  return winding != 0;
}

bool nearer_than(const GridPath& a, const GridPath& b, std::int64_t gap_um) {
  for (std::size_t i = 0; i < b.size(); ++i)
    if (inside_meets(a, b[i], b[(i + 1) % b.size()])) return true;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (inside_meets(b, a[i], a[(i + 1) % a.size()])) return true;
  // Equal outlines: no border meets the other's inside.
  const auto on_border = [&](GridPoint p) { return holds_point(b, p); };
  if (std::all_of(a.begin(), a.end(), on_border)) return true;
  return borders_near(a, b, gap_um);
}

bool lies_within(const GridPath& convex, const GridPath& outline, std::int64_t trim_um) {
  for (std::size_t i = 0; i < outline.size(); ++i)
    if (inside_meets(convex, outline[i], outline[(i + 1) % outline.size()])) return false;
  for (const GridPoint p : convex)
    if (!holds_point(outline, p)) return false;
  return !borders_near(convex, outline, trim_um);
}

bool lies_clear(const GridPath& convex, const GridPath& keep_out, std::int64_t margin_um) {
  for (std::size_t i = 0; i < keep_out.size(); ++i)
    if (inside_meets(convex, keep_out[i], keep_out[(i + 1) % keep_out.size()])) return false;
  // No border of the keep-out passes through: the shape is inside of it or outside, all of it.
  std::size_t held = 0;
  for (const GridPoint p : convex) held += holds_point(keep_out, p) ? 1 : 0;
  if (held == convex.size()) return false;
  return !borders_near(convex, keep_out, margin_um);
}

double area_um2(const GridPath& path) {
  Wide twice = 0;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const GridPoint a = path[i], b = path[(i + 1) % path.size()];
    twice += Wide{a.x} * b.y - Wide{b.x} * a.y;
  }
  return std::abs(static_cast<double>(twice)) / 2;
}

std::vector<Vec2> left_of(const std::vector<Vec2>& polygon, Vec2 a, Vec2 b) {
  std::vector<Vec2> result;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 p = polygon[i], q = polygon[(i + 1) % polygon.size()];
    const double u = cross(b - a, p - a), v = cross(b - a, q - a);
    if (u >= 0) result.push_back(p);
    if ((u < 0) != (v < 0)) result.push_back(p + (q - p) * (u / (u - v)));
  }
  return result;
}

double area_mm2(const std::vector<Vec2>& polygon) {
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return std::abs(twice) / 2;
}

}  // namespace haftwright::test
