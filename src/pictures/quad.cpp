#include "quad.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "median.hpp"
#include "plane.hpp"

namespace haftwright::pictures {
namespace {

constexpr int kPlacesASide = 80;
// Near the corners a side may be rounded.
constexpr double kFirstPart = 0.06;
// More corners than this are thinned out: those that turn least go.
constexpr std::size_t kMostCorners = 32;
constexpr double kLeastAngle_deg = 35;
constexpr double kMostSideRatio = 3;
// An edge seen this far off the line belongs to something else. A bowed lens bends sides by some thousandths.
constexpr double kStray_px = 1.5;
constexpr double kStrayShare = 0.004;
constexpr double kLeastStray_px = 0.3;
constexpr double kStrayRatio = 4;
constexpr double kLeastSeen = 0.45;

std::vector<Vec2> thinned(std::vector<Vec2> hull) {
  while (hull.size() > kMostCorners) {
    std::size_t least = 0;
    double least_area = 1e300;
    for (std::size_t i = 0; i < hull.size(); ++i) {
      const Vec2 before = hull[(i + hull.size() - 1) % hull.size()];
      const Vec2 after = hull[(i + 1) % hull.size()];
      const double area = std::abs(cross(hull[i] - before, after - hull[i]));
      if (area < least_area) {
        least_area = area;
        least = i;
      }
    }
    hull.erase(hull.begin() + static_cast<std::ptrdiff_t>(least));
  }
  return hull;
}

struct Line {
  Vec2 middle{0, 0};
  Vec2 along{1, 0};
  double off(Vec2 p) const { return cross(along, p - middle); }
};

Line line_through(const std::vector<Vec2>& points) {
  Line line;
  for (const Vec2 p : points) line.middle += p / static_cast<double>(points.size());
  double xx = 0, xy = 0, yy = 0;
  for (const Vec2 p : points) {
    const Vec2 d = p - line.middle;
    xx += d.x * d.x;
    xy += d.x * d.y;
    yy += d.y * d.y;
  }
  const double angle = std::atan2(2 * xy, xx - yy) / 2;
  line.along = {std::cos(angle), std::sin(angle)};
  return line;
}

/// Of the points nearer than `near_px`.
double median_off(const std::vector<Vec2>& points, const Line& line, double near_px) {
  std::vector<double> off;
  for (const Vec2 p : points)
    if (std::abs(line.off(p)) < near_px) off.push_back(std::abs(line.off(p)));
  if (off.empty()) return near_px;
  return median(std::move(off));
}

/// The line whose offsets' median is least (Rousseeuw, J. Am. Stat. Assoc. 79 (1984) 871-880), from pairs of
/// points far apart in a fixed order, so that every run gives the same; then least squares of what lies near
/// it.
struct SideFit {
  Line line;
  double seen = 0;
  double squares = 0;
  int count = 0;
};
std::optional<SideFit> fitted_side(const std::vector<Vec2>& points, double near_px) {
  if (static_cast<double>(points.size()) < kPlacesASide * kLeastSeen) return {};
  Line best;
  double least = near_px;
  const std::size_t count = points.size();
  for (std::size_t a = 0; a < count; a += 2)
    for (std::size_t b = a + count / 3; b < count; b += 3) {
      const Line line{points[a], glm::normalize(points[b] - points[a])};
      const double median = median_off(points, line, 1e9);
      if (median >= least) continue;
      least = median;
      best = line;
    }
  if (least >= near_px) return {};
  SideFit fit;
  for (int pass = 0; pass < 4; ++pass) {
    // What crosses the side shifts places near it by a little: those that stray more than the rest do go.
    near_px = std::clamp(kStrayRatio * median_off(points, best, near_px), kLeastStray_px, near_px);
    std::vector<Vec2> near;
    for (const Vec2 p : points)
      if (std::abs(best.off(p)) < near_px) near.push_back(p);
    if (static_cast<double>(near.size()) < kPlacesASide * kLeastSeen) return {};
    best = line_through(near);
    fit.line = best;
    fit.count = static_cast<int>(near.size());
    fit.seen = static_cast<double>(near.size()) / kPlacesASide;
    fit.squares = 0;
    for (const Vec2 p : near) fit.squares += best.off(p) * best.off(p);
  }
  return fit;
}

std::optional<Vec2> meeting(const Line& a, const Line& b) {
  const double sine = cross(a.along, b.along);
  if (std::abs(sine) < 0.2) return {};
  return a.middle + a.along * (cross(b.middle - a.middle, b.along) / sine);
}

}  // namespace

std::optional<Quad> largest_quad(const std::vector<Vec2>& hull) {
  const auto corners = thinned(hull);
  const std::size_t n = corners.size();
  if (n < 4) return {};
  Quad best{};
  double most = 0;
  // A diagonal, and the corner farthest from it on either side.
  for (std::size_t a = 0; a < n; ++a)
    for (std::size_t c = a + 2; c < n; ++c) {
      const Vec2 diagonal = corners[c] - corners[a];
      const auto farthest = [&](std::size_t from, std::size_t to) {
        std::size_t place = from;
        for (std::size_t i = from; i < to; ++i)
          if (std::abs(cross(diagonal, corners[i % n] - corners[a])) >
              std::abs(cross(diagonal, corners[place % n] - corners[a])))
            place = i;
        return corners[place % n];
      };
      if (a + n - c < 2) continue;
      const Quad quad{corners[a], farthest(a + 1, c), corners[c], farthest(c + 1, a + n)};
      const double area = area_of(quad);
      if (area > most) {
        most = area;
        best = quad;
      }
    }
  if (most <= 0) return {};
  return best;
}

bool may_be_rectangle(const Quad& quad) {
  std::array<double, 4> sides{};
  for (std::size_t i = 0; i < 4; ++i) {
    const Vec2 in = quad[(i + 1) % 4] - quad[i];
    const Vec2 out = quad[(i + 2) % 4] - quad[(i + 1) % 4];
    sides[i] = glm::length(in);
    const double sine = cross(in, out) / (glm::length(in) * glm::length(out));
    if (!(sine > std::sin(kLeastAngle_deg * std::numbers::pi / 180))) return false;
  }
  for (std::size_t i = 0; i < 2; ++i)
    if (std::max(sides[i], sides[i + 2]) > kMostSideRatio * std::min(sides[i], sides[i + 2])) return false;
  return true;
}

std::optional<QuadFit> fitted_quad(const LightReader& light, const Quad& quad, double reach_px,
                                   bool lighter_outside) {
  std::array<Line, 4> lines{};
  QuadFit fit{{}, 1, 0};
  double squares = 0;
  int count = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Vec2 from = quad[i];
    const Vec2 side = quad[(i + 1) % 4] - from;
    // Clockwise as seen, y down: outside lies to the left of the way.
    const Vec2 outward = glm::normalize(Vec2{side.y, -side.x});
    std::vector<Vec2> seen;
    for (int k = 0; k < kPlacesASide; ++k) {
      const double part = kFirstPart + (1 - 2 * kFirstPart) * k / (kPlacesASide - 1);
      const Vec2 at = from + part * side;
      const Vec2 direction = lighter_outside ? outward : -outward;
      if (!light.holds(at)) continue;
      if (const auto step = rise_along(light, at, direction, reach_px))
        seen.push_back(at + direction * step->at);
    }
    const auto fitted = fitted_side(seen, kStray_px + kStrayShare * glm::length(side));
    if (!fitted) return {};
    lines[i] = fitted->line;
    fit.sides_seen = std::min(fit.sides_seen, fitted->seen);
    squares += fitted->squares;
    count += fitted->count;
  }
  for (std::size_t i = 0; i < 4; ++i) {
    const auto corner = meeting(lines[(i + 3) % 4], lines[i]);
    if (!corner) return {};
    fit.corners[i] = *corner;
  }
  fit.stray_px = std::sqrt(squares / count);
  return fit;
}

}  // namespace haftwright::pictures
