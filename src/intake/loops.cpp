#include "haftwright/intake/loops.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "chains.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "path_maker.hpp"
#include "point_grid.hpp"

namespace haftwright::intake {
namespace {

// A loop that is round within more than this share of its radius is no hole that a drill made.
constexpr double kRoundShare = 0.02;

// Nodes nearer than this are one.
constexpr double kOnePlace_mm = 1e-6;

std::vector<Node> without_short_edges(const std::vector<Node>& nodes) {
  std::vector<Node> kept;
  for (const Node& node : nodes) {
    if (!kept.empty() && glm::distance(kept.back().at, node.at) < kOnePlace_mm)
      kept.back().bulge = node.bulge;
    else
      kept.push_back(node);
  }
  while (kept.size() > 1 && glm::distance(kept.back().at, kept.front().at) < kOnePlace_mm) kept.pop_back();
  return kept;
}

Bounds box_of(const std::vector<Node>& nodes) {
  Bounds box{nodes.front().at, nodes.front().at};
  for (const Node& node : nodes) {
    box.low = glm::min(box.low, node.at);
    box.high = glm::max(box.high, node.at);
  }
  return box;
}

/// The circle that the outline is, and how far it is from round.
std::optional<Round> round_of(const Outline& outline, double round_mm, double& out_of_round_mm) {
  const Vec2 size = outline.bounds().size();
  if (std::abs(size.x - size.y) > 2 * round_mm) return {};
  const double radius = std::sqrt(outline.area_mm2() / std::numbers::pi);
  const double most = std::min(round_mm, kRoundShare * radius);
  const Vec2 centre = outline.moments().centroid;
  double off = 0;
  for (const Vec2 p : polyline(outline, most / 10))
    off = std::max(off, std::abs(glm::distance(p, centre) - radius));
  // Chords of a polygon lie farther in than their ends.
  for (const Edge& edge : outline.edges())
    off = std::max(off, std::abs(glm::distance(edge.point(0.5), centre) - radius));
  if (off > most) return {};
  out_of_round_mm = std::max(out_of_round_mm, off);
  return Round{centre, 2 * radius};
}

bool same(const Outline& a, const Outline& b) {
  const Bounds &p = a.bounds(), &q = b.bounds();
  if (glm::distance(p.low, q.low) > 2 * kSame_mm || glm::distance(p.high, q.high) > 2 * kSame_mm)
    return false;
  if (std::abs(a.area_mm2() - b.area_mm2()) > kSame_mm * a.perimeter_mm()) return false;
  const auto lies_on = [](const Outline& inner, const Outline& outer) {
    return std::all_of(inner.edges().begin(), inner.edges().end(), [&outer](const Edge& edge) {
      return outer.nearest(edge.from).distance_mm <= kSame_mm &&
             outer.nearest(edge.point(0.5)).distance_mm <= kSame_mm;
    });
  };
  return lies_on(a, b) && lies_on(b, a);
}

void drop_doubles(Loops& loops) {
  std::vector<Vec2> corners;
  for (const Loop& loop : loops.loops) corners.push_back(loop.outline.bounds().low);
  const PointGrid grid(corners, 2 * kSame_mm);
  std::vector<bool> dropped(loops.loops.size(), false);
  for (std::size_t i = 0; i < dropped.size(); ++i)
    grid.near(corners[i], [&](std::size_t k) {
      if (k < i && !dropped[i] && !dropped[k])
        dropped[i] = same(loops.loops[i].outline, loops.loops[k].outline);
    });
  std::vector<Loop> kept;
  for (std::size_t i = 0; i < dropped.size(); ++i)
    dropped[i] ? void(++loops.doubles) : kept.push_back(std::move(loops.loops[i]));
  loops.loops = std::move(kept);
}

bool holds(const Outline& outer, const Outline& inner) {
  const Bounds &o = outer.bounds(), &i = inner.bounds();
  return o.low.x <= i.low.x && o.low.y <= i.low.y && o.high.x >= i.high.x && o.high.y >= i.high.y &&
         outer.contains(inner.nodes().front().at);
}

/// Largest first, so that the smallest one that holds a loop is the last one before it that does.
void nest(std::vector<Loop>& loops) {
  std::stable_sort(loops.begin(), loops.end(),
                   [](const Loop& a, const Loop& b) { return a.outline.area_mm2() > b.outline.area_mm2(); });
  for (std::size_t i = 0; i < loops.size(); ++i)
    for (std::size_t k = i; k-- > 0;) {
      if (!holds(loops[k].outline, loops[i].outline)) continue;
      loops[i].inside = k;
      loops[k].holds.push_back(i);
      break;
    }
}

std::vector<LooseEnds> loose_ends(const std::vector<Path>& open) {
  // With many of them nobody looks for the nearest.
  constexpr std::size_t kMostCompared = 500;
  std::vector<LooseEnds> loose;
  for (const Path& path : open)
    loose.push_back({path.nodes.front().at, path.nodes.back().at, length_mm(path), path.line, {}});
  std::stable_sort(loose.begin(), loose.end(),
                   [](const LooseEnds& a, const LooseEnds& b) { return a.length_mm > b.length_mm; });
  for (std::size_t i = 0; i < std::min(loose.size(), kMostCompared); ++i) {
    LooseEnds& ends = loose[i];
    double nearest = glm::distance(ends.from, ends.to);
    for (std::size_t k = 0; k < std::min(loose.size(), kMostCompared); ++k) {
      if (k == i) continue;
      for (const Vec2 a : {ends.from, ends.to})
        for (const Vec2 b : {loose[k].from, loose[k].to}) nearest = std::min(nearest, glm::distance(a, b));
    }
    ends.nearest_mm = nearest;
  }
  return loose;
}

}  // namespace

Loops find_loops(const Sketch& sketch, double close_mm, double round_mm, const Limits& limits) {
  if (!(close_mm > 0) || !(round_mm > 0) || !std::isfinite(close_mm) || !std::isfinite(round_mm))
    throw std::invalid_argument("the distances of loops must be above 0");
  const Chains chains = joined(sketch.paths, close_mm);
  if (chains.closed.size() > limits.loops)
    throw IntakeError("", "the drawing holds " + std::to_string(chains.closed.size()) +
                              " closed loops; at most " + std::to_string(limits.loops) +
                              " are looked at. Choose a layer, or take out what is not the tang");
  Loops loops;
  loops.doubles = chains.doubles;
  loops.gaps = chains.gaps;
  loops.largest_gap_mm = chains.largest_gap_mm;
  loops.loose = loose_ends(chains.open);
  for (const Path& path : chains.closed) {
    try {
      Outline outline(without_short_edges(path.nodes));
      loops.loops.push_back(
          {std::move(outline), {}, sketch.layers[path.layer].name, path.line, path.deviation_mm, {}, {}});
    } catch (const OutlineError& error) {
      loops.spoilt.push_back({error.fault().what, box_of(path.nodes), path.line});
    }
  }
  drop_doubles(loops);
  nest(loops.loops);
  for (Loop& loop : loops.loops) {
    loop.round = round_of(loop.outline, round_mm, loops.out_of_round_mm);
    loops.largest_deviation_mm = std::max(loops.largest_deviation_mm, loop.deviation_mm);
  }
  return loops;
}

std::vector<std::size_t> outermost(const Loops& loops) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < loops.loops.size(); ++i)
    if (!loops.loops[i].inside && !loops.loops[i].round) found.push_back(i);
  return found;
}

}  // namespace haftwright::intake
