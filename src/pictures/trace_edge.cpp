#include <algorithm>
#include <cmath>

#include "median.hpp"
#include "trace_steps.hpp"

namespace haftwright::pictures {
namespace {

constexpr double kSpacing_px = 1.5;
constexpr double kStep_px = 0.5;
constexpr double kNear_px = 4;
// Levels of both sides are read this far beyond where the edge may be.
constexpr double kLevel_px = 5;
// Of linear light, 0 to 1: less is noise.
constexpr double kLeastContrast = 0.01;
// Neighbours, either side, that a place is held against.
constexpr int kNeighbours = 4;
constexpr double kMostStray_px = 1.0;

using Points = std::vector<Vec2>;

Vec2 at(const Points& points, std::ptrdiff_t i) {
  const auto n = static_cast<std::ptrdiff_t>(points.size());
  return points[static_cast<std::size_t>(((i % n) + n) % n)];
}

Points evenly_spaced(const Points& closed, double spacing) {
  double length = 0;
  for (std::size_t i = 0; i < closed.size(); ++i)
    length += glm::distance(closed[i], closed[(i + 1) % closed.size()]);
  const auto count = static_cast<std::size_t>(std::max(8.0, std::round(length / spacing)));
  Points out;
  double done = 0;
  for (std::size_t i = 0; i < closed.size() && out.size() < count; ++i) {
    const Vec2 a = closed[i];
    const Vec2 b = closed[(i + 1) % closed.size()];
    const double side = glm::distance(a, b);
    while (out.size() < count) {
      const double along = length * static_cast<double>(out.size()) / static_cast<double>(count) - done;
      if (along > side) break;
      out.push_back(side > 0 ? a + (b - a) * (along / side) : a);
    }
    done += side;
  }
  return out;
}

/// The mean of neighbours, weighted as a bell of that many places.
Points smoothed(const Points& points, double places) {
  const int half = static_cast<int>(std::ceil(2.5 * places));
  Points out;
  for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(points.size()); ++i) {
    Vec2 sum{0, 0};
    double weight = 0;
    for (int k = -half; k <= half; ++k) {
      const double w = std::exp(-0.5 * k * k / (places * places));
      sum += w * at(points, i + k);
      weight += w;
    }
    out.push_back(sum / weight);
  }
  return out;
}

/// Away from the thing, which lies on the right of the way as seen (y down).
Vec2 outward(const Points& points, std::ptrdiff_t i, int half) {
  Vec2 way{0, 0};
  for (int k = 1; k <= half; ++k) way += at(points, i + k) - at(points, i - k);
  const double length = glm::length(way);
  return length > 0 ? Vec2{way.y, -way.x} / length : Vec2{0, 0};
}

/// Where the light changes from the thing's to the ground's: 0 inside, 1 outside, along the way out.
std::optional<double> edge_along(const LightReader& light, Vec2 middle, Vec2 out, double reach_px) {
  const int half = static_cast<int>(std::ceil((reach_px + kLevel_px) / kStep_px));
  std::vector<Vec3> colours;
  Vec3 inside{0, 0, 0};
  Vec3 outside{0, 0, 0};
  const int level = static_cast<int>(kLevel_px / kStep_px);
  for (int i = -half; i <= half; ++i) {
    colours.push_back(light.colour(middle + out * (i * kStep_px)));
    if (i < -half + level) inside += colours.back() / double(level);
    if (i > half - level) outside += colours.back() / double(level);
  }
  // Along the way between both colours: wood may be as bright as a coloured card, and a shadow may turn which
  // of them is the brighter.
  const Vec3 axis = outside - inside;
  if (glm::length(axis) < kLeastContrast) return {};
  std::vector<double> profile;
  for (const Vec3& colour : colours) profile.push_back(glm::dot(colour, axis));
  const double expected = glm::dot(outside - inside, axis);
  const auto step = steepest_rise(profile, kStep_px);
  if (!step || std::abs(step->at) > reach_px || step->height < 0.3 * expected) return {};
  return step->at;
}

/// Offsets that stray from their neighbours, or are missing, become the neighbours' median.
std::vector<double> settled(const std::vector<std::optional<double>>& offsets, double most_stray,
                            double& seen) {
  const auto n = static_cast<std::ptrdiff_t>(offsets.size());
  std::vector<double> out;
  int good = 0;
  for (std::ptrdiff_t i = 0; i < n; ++i) {
    std::vector<double> near;
    for (int k = -kNeighbours; k <= kNeighbours; ++k)
      if (const auto& offset = offsets[static_cast<std::size_t>(((i + k) % n + n) % n)])
        near.push_back(*offset);
    const double middle = near.empty() ? 0 : median(near);
    const auto& own = offsets[static_cast<std::size_t>(i)];
    const bool fits = own && std::abs(*own - middle) <= most_stray;
    good += fits;
    out.push_back(fits ? *own : middle);
  }
  seen = good / static_cast<double>(n);
  return out;
}

struct Moved {
  Points points;
  double seen = 0;
  double scatter_px = 0;
};
Moved moved(const LightReader& light, const Points& points, double reach_px, double most_stray,
            int normal_half) {
  std::vector<std::optional<double>> offsets;
  std::vector<Vec2> ways;
  for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(points.size()); ++i) {
    ways.push_back(outward(points, i, normal_half));
    offsets.push_back(edge_along(light, points[static_cast<std::size_t>(i)], ways.back(), reach_px));
  }
  Moved out;
  const auto settled_offsets = settled(offsets, most_stray, out.seen);
  double squares = 0;
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i) {
    out.points.push_back(points[i] + ways[i] * settled_offsets[i]);
    const double bend =
        settled_offsets[(i + n - 1) % n] - 2 * settled_offsets[i] + settled_offsets[(i + 1) % n];
    squares += bend * bend / 6;  // the second difference of what varies by itself has six times its variance
  }
  out.scatter_px = std::sqrt(squares / static_cast<double>(n));
  return out;
}

}  // namespace

FoundEdge edge_near(const LightReader& light, std::vector<Vec2> border, double reach_px) {
  // The border runs along the edges of coarse pixels: its stairs go first.
  const Points coarse = smoothed(evenly_spaced(border, kSpacing_px), reach_px / kSpacing_px / 3);
  Moved step = moved(light, coarse, reach_px, reach_px / 3, 4);
  // Ever less smoothing, so that corners come out: a place there lies far from what its neighbours' mean
  // says.
  for (const double places : {1.5, 1.0, 0.6, 0.6})
    step = moved(light, smoothed(evenly_spaced(step.points, kSpacing_px), places), kNear_px, kMostStray_px,
                 places > 1 ? 3 : 2);
  return {step.points, step.scatter_px, step.seen};
}

}  // namespace haftwright::pictures
