#include <cmath>
#include <stdexcept>

#include "chain_parts.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "outline_fault.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

namespace {

constexpr double kSharpCorner = 15 * kPi / 180;
// A direction whose y is under this runs along x: far over the rounding of an arc's direction, and an edge of
// 100 mm strays by it no more than kLeastEdge_mm.
constexpr double kAlongX = 1e-9;

double x_sign(End end) {
  return end == End::butt ? 1 : -1;
}

/// The place farthest out at an end; t is 0 when it is a node.
Place outermost(const Outline& outline, End end) {
  const std::vector<Edge>& edges = outline.edges();
  Place best;
  double farthest = -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (const double x = edges[i].from.x * x_sign(end); x > farthest) {
      farthest = x;
      best = {i, 0};
    }
  }
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const Edge& edge = edges[i];
    const Vec2 apex = edge.centre + Vec2{x_sign(end) * edge.radius, 0};
    if (!edge.is_arc() || apex.x * x_sign(end) <= farthest + kSamePlace_mm) continue;
    if (!arc_spans_point(edge, apex)) continue;
    farthest = apex.x * x_sign(end);
    best = {i, parameter_of(edge, apex)};
  }
  return best;
}

/// Walks from the outermost place up or down the end, looking at the outline in mirrors that make every walk
/// start at the greatest x and climb in y.
class Climb {
 public:
  Climb(const Outline& outline, End end, Place start, bool forward)
      : edges_(outline.edges()),
        mirror_{x_sign(end), forward == (end == End::butt) ? 1 : -1},
        start_(start),
        forward_(forward) {}

  Place stop() const {
    if (start_.t == 0 && side_starts_at_once()) return start_;
    const double u = forward_ || start_.t == 0 ? start_.t : 1 - start_.t;
    const auto count = static_cast<std::ptrdiff_t>(edges_.size());
    for (std::ptrdiff_t k = 0; k < count; ++k) {
      const Edge edge = seen(k);
      if (const auto top = top_of(edge, k == 0 ? u : 0)) return {index(k), forward_ ? *top : 1 - *top};
      if (side_starts_after(edge, seen(k + 1))) return {index(k), forward_ ? 1.0 : 0.0};
    }
    return start_;
  }

 private:
  std::size_t index(std::ptrdiff_t k) const {
    const auto n = static_cast<std::ptrdiff_t>(edges_.size());
    const auto i = static_cast<std::ptrdiff_t>(start_.edge);
    const std::ptrdiff_t j = forward_ ? i + k : i - k - (start_.t == 0 ? 1 : 0);
    return static_cast<std::size_t>((j % n + n) % n);
  }

  /// The k-th edge of the walk as seen in the mirrors.
  Edge seen(std::ptrdiff_t k) const {
    const Edge& edge = edges_[index(k)];
    const double bulge = edge.bulge * mirror_.x * mirror_.y;
    return forward_ ? Edge(edge.from * mirror_, edge.to * mirror_, bulge)
                    : Edge(edge.to * mirror_, edge.from * mirror_, -bulge);
  }

  static bool is_sharp(Vec2 before, Vec2 after) {
    return std::abs(std::atan2(cross(before, after), glm::dot(before, after))) > kSharpCorner;
  }

  /// Within 15 degrees of x all along: spine or belly, wherever it lies.
  static bool is_flat(const Edge& edge) {
    const double flat = std::sin(kSharpCorner);
    return std::abs(edge.direction(0).y) < flat && std::abs(edge.direction(0.5).y) < flat &&
           std::abs(edge.direction(1).y) < flat;
  }

  /// At an outermost corner spine or belly starts with an edge that turns back or is flat, or with the edge
  /// that is the flatter of the two and nearer to x than to y; the other edge is the end's face.
  bool side_starts_at_once() const {
    const Vec2 before = seen(-1).direction(1);
    const Vec2 after = seen(0).direction(0);
    if (after.y <= kAlongX || is_flat(seen(0))) return true;
    return is_sharp(before, after) && after.y < std::abs(after.x) && after.y < std::abs(before.y) - kAlongX;
  }

  static bool side_starts_after(const Edge& edge, const Edge& next) {
    const Vec2 heading = next.direction(0);
    return heading.y <= kAlongX || is_sharp(edge.direction(1), heading) || is_flat(next);
  }

  /// Where past `u` the climb tops out within an edge.
  static std::optional<double> top_of(const Edge& edge, double u) {
    const Vec2 spoke{0, edge.radius};
    const Vec2 from_start = edge.centre - edge.from + spoke;
    if (!edge.is_arc() || !arc_spans(edge, from_start, edge.centre - edge.to + spoke)) return std::nullopt;
    const double t = parameter_of(edge, edge.from + from_start);
    return t > u && t < 1 ? std::optional(t) : std::nullopt;
  }

  const std::vector<Edge>& edges_;
  Vec2 mirror_;
  Place start_;
  bool forward_;
};

/// The outline with the boundary between two places moved by `shift` and straight bridges at its ends.
Outline moved_between(const Outline& outline, Place first, Place last, Vec2 shift) {
  std::vector<Node> chain;
  append_stretch(chain, outline, first, last, shift);
  append_stretch(chain, outline, last, first);
  drop_short_edges(chain, kLeastEdge_mm);
  return Outline::trusted(std::move(chain));
}

/// The node that lies `edges` edges farther out of the end than a place: back along the chain from the first
/// place, on along it from the last.
Place wider(const Outline& outline, Place place, std::size_t edges, bool forward) {
  if (edges == 0) return place;
  const std::size_t n = outline.edges().size();
  const bool at_start = place.t == 0;
  if (forward) return {(place.edge + edges - (at_start ? 1 : 0)) % n, 1};
  return {(place.edge + n - edges + (at_start ? 0 : 1)) % n, 0};
}

/// Edges from one place forward to another, parts counted whole.
std::size_t edges_between(const Outline& outline, Place from, Place to) {
  const std::size_t n = outline.edges().size();
  const std::size_t begin = from.edge + (from.t == 1 ? 1 : 0);
  const std::size_t end = to.edge + (to.t > 0 ? 1 : 0);
  const std::size_t count = (end + 2 * n - begin) % n;
  return count == 0 ? n : count;
}

/// Edges that a wider end may take in beyond its own corners: the lips of a notch or two.
constexpr std::size_t kWidestEnd = 8;

}  // namespace

Outline drawn_out(const Outline& outline, End end, double by_mm) {
  if (!(by_mm >= 0) || !std::isfinite(by_mm)) {
    throw std::invalid_argument("an end can be drawn out by 0 mm or more");
  }
  if (by_mm == 0) return outline;
  const Place start = outermost(outline, end);
  const Place first = Climb(outline, end, start, false).stop();
  const Place last = Climb(outline, end, start, true).stop();
  const Vec2 shift{x_sign(end) * by_mm, 0};
  if (moved_between(outline, first, last, shift).area_mm2() < outline.area_mm2() + kLeastArea_mm2)
    throw EndError("the outline comes to a point there, spine on belly, with no face between them");
  // Where another part of the outline lies in the end's way, that part belongs to the end: it moves too.
  const std::size_t widest = std::min(kWidestEnd, edges_between(outline, last, first) - 1);
  for (std::size_t more = 0; more <= widest; ++more) {
    for (std::size_t back = 0; back <= more; ++back) {
      Outline drawn = moved_between(outline, wider(outline, first, back, false),
                                    wider(outline, last, more - back, true), shift);
      if (drawn.area_mm2() <= outline.area_mm2()) continue;
      // An outline that meets itself as it is, by a hair, can't come out better.
      if (!find_meeting(drawn.edges()) || (more == 0 && find_meeting(outline.edges()))) return drawn;
    }
  }
  throw EndError("other parts of the outline lie in the end's way");
}

}  // namespace haftwright
