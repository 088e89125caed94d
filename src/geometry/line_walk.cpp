#include "line_walk.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"

namespace haftwright::geometry {

namespace {

struct Sample {
  Place at;
  double height = 0;
  int side = 0;
};

struct Line {
  Vec2 normal;
  double limit;
  double height(Vec2 p) const { return glm::dot(normal, p) - limit; }
};

Sample sample_at(const Line& line, std::size_t edge, double t, Vec2 point) {
  const double height = line.height(point);
  const int side = height > kSamePlace_mm ? 1 : height < -kSamePlace_mm ? -1 : 0;
  return {{edge, t}, height, side};
}

// Whether the whole arc lies on one side of the line, as far as its chord's ends and the rise over it tell.
bool clear_of(const Line& line, const Edge& arc, double from_height) {
  const double to_height = line.height(arc.to);
  const double rise =
      std::abs(arc.bulge) <= 1 ? std::abs(arc.bulge) * distance_mm(arc.from, arc.to) / 2 : 2 * arc.radius;
  const double clear = rise * (1 + 1e-9) + 2 * kSamePlace_mm;
  return std::min(from_height, to_height) > clear || std::max(from_height, to_height) < -clear;
}

// The nodes, and the places where an arc is farthest to either side: between two samples the height is
// monotone.
std::vector<Sample> samples_of(const Outline& outline, const Line& line) {
  const std::vector<Edge>& edges = outline.edges();
  std::vector<Sample> samples;
  samples.reserve(edges.size() + 4);
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const Edge& edge = edges[i];
    samples.push_back(sample_at(line, i, 0, edge.from));
    if (!edge.is_arc() || clear_of(line, edge, samples.back().height)) continue;
    const std::size_t first_apex = samples.size();
    for (const double sign : {-1.0, 1.0}) {
      const Vec2 spoke = line.normal * (sign * edge.radius);
      const Vec2 from_start = edge.centre - edge.from + spoke;
      if (!arc_spans(edge, from_start, edge.centre - edge.to + spoke)) continue;
      const double t = parameter_of(edge, edge.from + from_start);
      if (t > 0 && t < 1) samples.push_back(sample_at(line, i, t, edge.point(t)));
    }
    if (samples.size() - first_apex == 2 && samples.back().at.t < samples[first_apex].at.t) {
      std::swap(samples.back(), samples[first_apex]);
    }
  }
  return samples;
}

// The parameter between t0 and t1 at which the edge meets the line; its ends lie on opposite sides. Halving
// with the secant through the last bracket (the Illinois rule) keeps the root between two signs, so it can't
// be lost however flat the crossing is.
double meeting(const Edge& edge, const Line& line, double t0, double h0, double t1, double h1) {
  if (!edge.is_arc()) return h0 / (h0 - h1);
  for (int i = 0; i < 100 && t1 != t0; ++i) {
    const double t = t0 + (t1 - t0) * (h0 / (h0 - h1));
    const double h = line.height(edge.point(t));
    if (h == 0 || t == t0 || t == t1) return t;
    if ((h < 0) == (h1 < 0)) {
      h0 /= 2;
    } else {
      t0 = t1;
      h0 = h1;
    }
    if (std::abs(t - t1) < 1e-16) return t;
    t1 = t;
    h1 = h;
  }
  return t1;
}

}  // namespace

LineWalk walk_past_line(const Outline& outline, Vec2 unit_normal, double limit) {
  const Line line{unit_normal, limit};
  const std::vector<Sample> samples = samples_of(outline, line);
  const std::size_t m = samples.size();
  std::size_t start = 0;
  while (start < m && samples[start].side == 0) ++start;
  LineWalk walk;
  if (start == m) return walk;
  walk.side = samples[start].side;
  std::optional<Place> along_first;
  Place along_last;
  int side = walk.side;
  for (std::size_t k = 1; k <= m; ++k) {
    const Sample& before = samples[(start + k - 1) % m];
    const Sample& now = samples[(start + k) % m];
    if (now.side == 0) {
      if (!along_first) along_first = now.at;
      along_last = now.at;
      continue;
    }
    if (along_first) {
      walk.contacts.push_back({*along_first, along_last, side, now.side});
    } else if (now.side != side) {
      const double t1 = now.at.edge == before.at.edge && now.at.t > before.at.t ? now.at.t : 1;
      const Edge& edge = outline.edges()[before.at.edge];
      const Place at{before.at.edge, meeting(edge, line, before.at.t, before.height, t1, now.height)};
      walk.contacts.push_back({at, at, side, now.side});
    }
    side = now.side;
    along_first.reset();
  }
  return walk;
}

}  // namespace haftwright::geometry
