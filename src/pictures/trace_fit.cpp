#include <algorithm>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "trace_steps.hpp"

namespace haftwright::pictures {
namespace {

// Sides that are straight for at least this many blunt lengths define a corner.
constexpr double kSideLengths = 3;
// What lies between two sides that may be a corner, all in all, and how far a corner may lie from the edge
// that was seen: farther, it is rounded in truth.
constexpr double kMostBetween = 4;
constexpr double kDrawnOut = 0.45;
// Sides that meet more flatly have no corner.
constexpr double kLeastSine = 0.1;
constexpr int kTries = 4;

struct Straight {
  Vec2 middle{0, 0};
  Vec2 along{1, 0};
};

/// The line of least squares through the points near a side, its ends left out.
std::optional<Straight> line_along(const std::vector<Vec2>& points, const Edge& side, double tolerance_mm,
                                   double blunt_mm) {
  const Vec2 way = side.to - side.from;
  const double length = glm::length(way);
  if (length < kSideLengths * blunt_mm) return {};
  const Vec2 along = way / length;
  std::vector<Vec2> near;
  Straight out;
  for (const Vec2 p : points) {
    const double t = glm::dot(p - side.from, along);
    if (t < blunt_mm || t > length - blunt_mm) continue;
    if (std::abs(cross(along, p - side.from)) > 2 * tolerance_mm) continue;
    near.push_back(p);
    out.middle += p;
  }
  if (near.size() < 4) return {};
  out.middle /= static_cast<double>(near.size());
  double across_sum = 0;
  double along_sum = 0;
  for (const Vec2 p : near) {
    const double t = glm::dot(p - out.middle, along);
    across_sum += t * cross(along, p - out.middle);
    along_sum += t * t;
  }
  out.along = glm::normalize(along + turned_left(along) * (across_sum / along_sum));
  return out;
}

/// Straight sides become their lines of least squares; where two of them meet, but for short edges between,
/// the corner is where the lines cross.
std::vector<Node> sharpened(const std::vector<Node>& chain, const std::vector<Vec2>& points,
                            double tolerance_mm, double blunt_mm) {
  const std::size_t n = chain.size();
  std::vector<std::optional<Straight>> lines(n);
  std::vector<double> lengths(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Edge edge(chain[i].at, chain[(i + 1) % n].at, chain[i].bulge);
    lengths[i] = edge.length();
    const double rise = std::abs(chain[i].bulge) * glm::distance(edge.from, edge.to) / 2;
    if (rise <= tolerance_mm) lines[i] = line_along(points, edge, tolerance_mm, blunt_mm);
  }
  std::vector<Node> moved = chain;
  std::vector<bool> dropped(n, false);
  for (std::size_t i = 0; i < n; ++i) {
    if (!lines[i]) continue;
    moved[i].bulge = 0;
    std::size_t k = (i + 1) % n;
    double between = 0;
    while (k != i && !lines[k] && between + lengths[k] < kMostBetween * blunt_mm) {
      between += lengths[k];
      k = (k + 1) % n;
    }
    if (k == i || !lines[k]) continue;
    const double sine = cross(lines[i]->along, lines[k]->along);
    if (std::abs(sine) < kLeastSine) continue;
    const Vec2 corner =
        lines[i]->middle +
        lines[i]->along * (cross(lines[k]->middle - lines[i]->middle, lines[k]->along) / sine);
    const auto nearest = std::min_element(points.begin(), points.end(), [corner](Vec2 a, Vec2 b) {
      return glm::distance(a, corner) < glm::distance(b, corner);
    });
    if (glm::distance(corner, *nearest) > kDrawnOut * blunt_mm) continue;
    moved[k].at = corner;
    for (std::size_t m = (i + 1) % n; m != k; m = (m + 1) % n) dropped[m] = true;
  }
  std::vector<Node> out;
  for (std::size_t i = 0; i < n; ++i)
    if (!dropped[i]) out.push_back(moved[i]);
  return out;
}

std::vector<Vec2> counter_clockwise(std::vector<Vec2> points) {
  if (area_of(points) < 0) std::reverse(points.begin(), points.end());
  return points;
}

}  // namespace

std::optional<FittedChain> fitted_chain(const std::vector<Vec2>& edge, double tolerance_mm, double blunt_mm) {
  const auto points = counter_clockwise(edge);
  if (points.size() < 3) return {};
  // A tight curve may cross itself when it is drawn too coarsely.
  for (int i = 0; i < kTries; ++i, tolerance_mm /= 2, blunt_mm /= 2) {
    const ArcFit fit = fit_arcs(points, tolerance_mm);
    for (const auto& chain : {sharpened(fit.chain, points, tolerance_mm, blunt_mm), fit.chain}) {
      if (chain.size() < 2 || find_fault(chain)) continue;
      const Outline outline(chain);
      FittedChain out{outline.nodes(), 0};
      for (const Vec2 p : points) out.largest_mm = std::max(out.largest_mm, outline.nearest(p).distance_mm);
      return out;
    }
  }
  return {};
}

}  // namespace haftwright::pictures
