#include "haftwright/geometry/outline.hpp"

#include <algorithm>
#include <cmath>

#include "edge_geometry.hpp"
#include "outline_fault.hpp"

namespace haftwright {

using namespace geometry;

namespace {

// Edges are searched in runs of this many neighbours with a box round each run.
constexpr std::size_t kRun = 8;

std::vector<Node> turned_round(const std::vector<Node>& chain) {
  std::vector<Node> result(chain.size());
  const std::size_t n = chain.size();
  for (std::size_t i = 0; i < n; ++i) {
    result[i] = {chain[(n - i) % n].at, -chain[n - 1 - i].bulge};
  }
  return result;
}

std::vector<Edge> edges_of(const std::vector<Node>& chain) {
  std::vector<Edge> edges;
  edges.reserve(chain.size());
  for (std::size_t i = 0; i < chain.size(); ++i) {
    edges.emplace_back(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
  }
  return edges;
}

// +1, -1 or 0: what the area between the arc and its chord adds to the winding number of p. A point on the
// chord goes to the side that the chord crossing rule of contains() puts it on: a hair to +x, then to +y.
int segment_winding(const Edge& edge, Vec2 p, double side) {
  if (!edge.is_arc()) return 0;
  if (side == 0) side = edge.to.y != edge.from.y ? edge.from.y - edge.to.y : edge.to.x - edge.from.x;
  const Vec2 q = p - edge.from;
  if (glm::dot(q, q - 2.0 * (edge.centre - edge.from)) >= 0) return 0;
  if (edge.bulge > 0) return side < 0 ? 1 : 0;
  return side > 0 ? -1 : 0;
}

int edge_winding(const Edge& edge, Vec2 p) {
  const double side = cross(edge.to - edge.from, p - edge.from);
  int winding = segment_winding(edge, p, side);
  if (edge.from.y <= p.y && p.y < edge.to.y && side > 0) ++winding;
  if (edge.to.y <= p.y && p.y < edge.from.y && side < 0) --winding;
  return winding;
}

}  // namespace

OutlineError::OutlineError(OutlineFault fault)
    : std::invalid_argument("outline node " + std::to_string(fault.node) + ": " + fault.what),
      fault_(std::move(fault)) {}

Outline::Outline(std::vector<Node> chain) {
  if (auto fault = find_fault(chain)) throw OutlineError(std::move(*fault));
  nodes_ = straightened(std::move(chain));
  derive();
}

Outline Outline::trusted(std::vector<Node> chain) {
  Outline outline;
  outline.nodes_ = std::move(chain);
  outline.derive();
  return outline;
}

void Outline::derive() {
  edges_ = edges_of(nodes_);
  area_mm2_ = signed_area_mm2(edges_, nodes_.front().at);
  if (area_mm2_ < 0) {
    nodes_ = turned_round(nodes_);
    edges_ = edges_of(nodes_);
    area_mm2_ = -area_mm2_;
  }
  edge_boxes_.clear();
  run_boxes_.clear();
  for (const Edge& edge : edges_) {
    edge_boxes_.push_back(bounds_of(edge));
    if (run_boxes_.size() * kRun < edge_boxes_.size()) {
      run_boxes_.push_back(edge_boxes_.back());
    } else {
      include(run_boxes_.back(), edge_boxes_.back());
    }
  }
  bounds_ = run_boxes_.front();
  for (const Bounds& box : run_boxes_) include(bounds_, box);
}

double Outline::perimeter_mm() const {
  double sum = 0;
  for (const Edge& edge : edges_) sum += edge.length();
  return sum;
}

Moments Outline::moments() const {
  // Green's theorem: the polygon of the chords, and the circular segment of each arc, about the middle of the
  // bounds to keep digits; then moved to the centroid.
  const Vec2 origin = (bounds_.low + bounds_.high) / 2.0;
  double area = 0;
  Vec2 first{0, 0};
  double xx = 0;
  double yy = 0;
  double xy = 0;
  for (const Edge& edge : edges_) {
    const Vec2 a = edge.from - origin;
    const Vec2 b = edge.to - origin;
    const double w = cross(a, b);
    area += w / 2;
    first += (a + b) * (w / 6);
    xx += w / 12 * (a.x * a.x + a.x * b.x + b.x * b.x);
    yy += w / 12 * (a.y * a.y + a.y * b.y + b.y * b.y);
    xy += w / 24 * (a.x * (2 * a.y + b.y) + b.x * (2 * b.y + a.y));
    if (!edge.is_arc()) continue;
    const SegmentIntegrals segment = segment_integrals(edge);
    const Vec2 m = (a + b) / 2.0;
    area += segment.area_mm2;
    first += m * segment.area_mm2 + segment.first;
    xx += segment.xx + m.x * (2 * segment.first.x + m.x * segment.area_mm2);
    yy += segment.yy + m.y * (2 * segment.first.y + m.y * segment.area_mm2);
    xy += segment.xy + m.x * segment.first.y + m.y * segment.first.x + m.x * m.y * segment.area_mm2;
  }
  const Vec2 c = first / area;
  return {area, origin + c, yy - area * c.y * c.y, xx - area * c.x * c.x, xy - area * c.x * c.y};
}

struct Outline::Search {
  Vec2 p;
  Foot best;
  std::size_t edge = 0;
};

void Outline::search_run(std::size_t run, Search& search) const {
  const std::size_t end = std::min(edges_.size(), (run + 1) * kRun);
  for (std::size_t i = run * kRun; i < end; ++i) {
    if (box_distance_squared(edge_boxes_[i], search.p) >= search.best.distance_squared) continue;
    const Foot foot = foot_on(edges_[i], search.p);
    if (foot.distance_squared < search.best.distance_squared) {
      search.best = foot;
      search.edge = i;
    }
  }
}

// The run with the nearest box first: its distance rules out most others unseen.
Outline::Search Outline::search_nearest(Vec2 p) const {
  std::size_t first = 0;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t run = 0; run < run_boxes_.size(); ++run) {
    const double d = box_distance_squared(run_boxes_[run], p);
    if (d < least) {
      least = d;
      first = run;
    }
  }
  Search search{p, {}, 0};
  search_run(first, search);
  for (std::size_t run = 0; run < run_boxes_.size(); ++run) {
    if (run == first || box_distance_squared(run_boxes_[run], p) >= search.best.distance_squared) continue;
    search_run(run, search);
  }
  return search;
}

Nearest Outline::nearest(Vec2 p) const {
  const Search found = search_nearest(p);
  return {std::sqrt(found.best.distance_squared), found.best.point, found.edge,
          parameter_of(edges_[found.edge], found.best.point)};
}

bool Outline::contains(Vec2 p) const {
  if (box_distance_squared(bounds_, p) > 0) return false;
  int winding = 0;
  for (std::size_t run = 0; run < run_boxes_.size(); ++run) {
    const Bounds& box = run_boxes_[run];
    if (p.y < box.low.y || p.y > box.high.y || p.x > box.high.x) continue;  // no edge crosses the ray to +x
    const std::size_t end = std::min(edges_.size(), (run + 1) * kRun);
    for (std::size_t i = run * kRun; i < end; ++i) winding += edge_winding(edges_[i], p);
  }
  return winding > 0;
}

double Outline::depth_mm(Vec2 p) const {
  const double distance = std::sqrt(search_nearest(p).best.distance_squared);
  return contains(p) ? distance : -distance;
}

bool Outline::operator==(const Outline& other) const {
  return nodes_ == other.nodes_;
}

}  // namespace haftwright
