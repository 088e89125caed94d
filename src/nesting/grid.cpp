#include "grid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace haftwright::nesting::inner {

namespace {

/// Exact for quarter turns, so that rectangles stay rectangles.
struct Turn {
  double cosine = 1;
  double sine = 0;
};
Turn turn_by(double angle_deg) {
  const double angle = std::remainder(angle_deg, 360.0);
  if (angle == 0) return {1, 0};
  if (angle == 90) return {0, 1};
  if (angle == -90) return {0, -1};
  if (std::abs(angle) == 180) return {-1, 0};
  const double radians = angle * (std::numbers::pi / 180);
  return {std::cos(radians), std::sin(radians)};
}

Path without_idle_points(Path path) {
  bool changed = true;
  while (changed && path.size() >= 3) {
    changed = false;
    for (std::size_t i = 0; i < path.size(); ++i) {
      const Point& last = path[i == 0 ? path.size() - 1 : i - 1];
      if (path[i] == last || side(last, path[i], next(path, i)) == 0) {
        path.erase(path.begin() + static_cast<std::ptrdiff_t>(i));
        changed = true;
        break;
      }
    }
  }
  return path;
}

struct Real {
  double x = 0, y = 0;
};

bool is_convex(const Path& path) {
  for (std::size_t i = 0; i < path.size(); ++i)
    if (side(path[i], next(path, i), path[(i + 2) % path.size()]) < 0) return false;
  return true;
}

/// As the general way does, and much quicker.
Paths left_of_convex(const Path& convex, const Point& a, const Point& b) {
  Path part;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Point& p = convex[i];
    const Point& q = next(convex, i);
    const Int u = side(a, b, p), v = side(a, b, q);
    if (u >= 0) part.push_back(p);
    if ((u < 0) == (v < 0) || u == 0 || v == 0) continue;
    const double t = static_cast<double>(u) / (static_cast<double>(u) - static_cast<double>(v));
    part.push_back({p.X + std::llround(static_cast<double>(q.X - p.X) * t),
                    p.Y + std::llround(static_cast<double>(q.Y - p.Y) * t)});
  }
  part = without_idle_points(std::move(part));
  if (part.size() < 3) return {};
  return {part};
}

}  // namespace

Int to_grid(double mm) {
  return std::llround(mm * kPerMm);
}

Point to_grid(Vec2 mm) {
  return {to_grid(mm.x), to_grid(mm.y)};
}

Polygon to_mm(const Path& path) {
  Polygon polygon;
  polygon.reserve(path.size());
  for (const Point& p : path) polygon.push_back(to_mm(p));
  return polygon;
}

Path to_grid(const Polygon& polygon) {
  Path path;
  path.reserve(polygon.size());
  for (const Vec2& p : polygon) path.push_back(to_grid(p));
  path = without_idle_points(std::move(path));
  if (path.size() >= 3 && ClipperLib::Area(path) < 0) std::reverse(path.begin(), path.end());
  return path;
}

Path hull(Path points) {
  std::sort(points.begin(), points.end(), before);
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  Path chain(2 * points.size());
  std::size_t k = 0;
  for (const Point& p : points) {
    while (k >= 2 && side(chain[k - 2], chain[k - 1], p) <= 0) --k;
    chain[k++] = p;
  }
  const std::size_t lower = k + 1;
  for (std::size_t i = points.size() - 1; i-- > 0;) {
    while (k >= lower && side(chain[k - 2], chain[k - 1], points[i]) <= 0) --k;
    chain[k++] = points[i];
  }
  chain.resize(k - 1);
  return chain;
}

Path turned(const Polygon& shape, double angle_deg) {
  const Turn turn = turn_by(angle_deg);
  Path path;
  path.reserve(shape.size());
  for (const Vec2& p : shape)
    path.push_back(
        {to_grid(p.x * turn.cosine - p.y * turn.sine), to_grid(p.x * turn.sine + p.y * turn.cosine)});
  return hull(std::move(path));
}

Path moved(const Path& path, const Point& by) {
  Path result = path;
  for (Point& p : result) p = p + by;
  return result;
}

double area_mm2(const Path& path) {
  return std::abs(ClipperLib::Area(path)) / (kPerMm * kPerMm);
}

Box box_of(const Path& path) {
  Box box{path[0].X, path[0].Y, path[0].X, path[0].Y};
  for (const Point& p : path) {
    box.left = std::min(box.left, p.X);
    box.right = std::max(box.right, p.X);
    box.bottom = std::min(box.bottom, p.Y);
    box.top = std::max(box.top, p.Y);
  }
  return box;
}

bool beyond(const Point& a, const Point& b, const Path& points, Int gap) {
  Int nearest = side(a, b, points[0]);
  for (const Point& p : points) nearest = std::max(nearest, side(a, b, p));
  if (nearest > 0) return false;
  const Point d = b - a;
  const Wide length_2 = Wide{d.X} * d.X + Wide{d.Y} * d.Y;
  return Wide{nearest} * nearest >= Wide{gap} * gap * length_2;
}

bool within(const Point& a, const Point& b, const Path& points) {
  return std::all_of(points.begin(), points.end(), [&](const Point& p) { return side(a, b, p) >= 0; });
}

bool parted(const Path& a, const Path& b, const Point& by, Int gap) {
  for (std::size_t i = 0; i < a.size(); ++i)
    if (beyond(a[i] - by, next(a, i) - by, b, gap)) return true;
  for (std::size_t i = 0; i < b.size(); ++i)
    if (beyond(b[i] + by, next(b, i) + by, a, gap)) return true;
  return false;
}

bool meets_inside(const Point& a, const Point& b, const Path& convex) {
  bool left = false, right = false;
  for (const Point& p : convex) {
    const Int s = side(a, b, p);
    left = left || s > 0;
    right = right || s < 0;
  }
  if (!left || !right) return false;
  for (std::size_t i = 0; i < convex.size(); ++i)
    if (side(convex[i], next(convex, i), a) <= 0 && side(convex[i], next(convex, i), b) <= 0) return false;
  return true;
}

bool holds(const Path& polygon, const Point& thirds) {
  bool inside = false;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point a{polygon[i].X * 3, polygon[i].Y * 3};
    const Point b{next(polygon, i).X * 3, next(polygon, i).Y * 3};
    if ((a.Y > thirds.Y) == (b.Y > thirds.Y)) continue;
    if ((side(a, b, thirds) > 0) == (b.Y > a.Y)) inside = !inside;
  }
  return inside;
}

std::optional<Path> shrunk(const Path& convex, double by) {
  std::vector<Real> kept;
  for (const Point& p : convex) kept.push_back({static_cast<double>(p.X), static_cast<double>(p.Y)});
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Point a = convex[i];
    const Point d = next(convex, i) - a;
    const double length = std::hypot(static_cast<double>(d.X), static_cast<double>(d.Y));
    const auto depth = [&](const Real& p) {
      return (static_cast<double>(d.X) * (p.y - static_cast<double>(a.Y)) -
              static_cast<double>(d.Y) * (p.x - static_cast<double>(a.X))) /
                 length -
             by;
    };
    std::vector<Real> cut;
    for (std::size_t j = 0; j < kept.size(); ++j) {
      const Real& p = kept[j];
      const Real& q = kept[(j + 1) % kept.size()];
      const double u = depth(p), v = depth(q);
      if (u >= 0) cut.push_back(p);
      if ((u < 0) != (v < 0))
        cut.push_back({p.x + (q.x - p.x) * u / (u - v), p.y + (q.y - p.y) * u / (u - v)});
    }
    kept = std::move(cut);
    if (kept.size() < 3) return std::nullopt;
  }
  Path path;
  for (const Real& p : kept) path.push_back({std::llround(p.x), std::llround(p.y)});
  path = hull(std::move(path));
  if (path.size() < 3) return std::nullopt;
  return path;
}

Paths grown(const Paths& paths, Int by) {
  Paths result;
  if (by == 0) {
    result = paths;
  } else {
    ClipperLib::ClipperOffset offset(2.0);
    offset.AddPaths(paths, ClipperLib::jtMiter, ClipperLib::etClosedPolygon);
    offset.Execute(result, static_cast<double>(by));
  }
  return result;
}

Paths left_part(const Path& polygon, const Point& a, const Point& b) {
  if (is_convex(polygon)) return left_of_convex(polygon, a, b);
  const Box box = box_of(polygon);
  const double reach =
      4 * (static_cast<double>(box.right - box.left) + static_cast<double>(box.top - box.bottom)) +
      std::abs(static_cast<double>(a.X - box.left)) + std::abs(static_cast<double>(a.Y - box.bottom));
  const Point d = b - a;
  const double length = std::hypot(static_cast<double>(d.X), static_cast<double>(d.Y));
  const Real e{static_cast<double>(d.X) / length * reach, static_cast<double>(d.Y) / length * reach};
  const auto at = [&](double along, double aside) {
    return Point{a.X + std::llround(e.x * along - e.y * aside),
                 a.Y + std::llround(e.y * along + e.x * aside)};
  };
  // The line itself goes through a and b; only its far ends are rounded.
  const Path half{at(-1, 0), a, b, at(1, 0), at(1, 1), at(-1, 1)};
  ClipperLib::Clipper clipper;
  clipper.AddPath(polygon, ClipperLib::ptSubject, true);
  clipper.AddPath(half, ClipperLib::ptClip, true);
  Paths result;
  clipper.Execute(ClipperLib::ctIntersection, result, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  return result;
}

}  // namespace haftwright::nesting::inner
