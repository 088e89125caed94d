#include <algorithm>
#include <cmath>

#include "edge_geometry.hpp"
#include "offset_pieces.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

namespace {

// Slices between the same places whose middles are this close run along each other: their ends may differ by
// kLeastEdge_mm and their middles by no more than a few times that.
constexpr double kAlongEachOther_mm = 10 * kLeastEdge_mm;

// How far along a slice its direction is taken, so that slices tangent to each other at a place are told
// apart by how they bend.
constexpr double kLookAhead_mm = 1e-2;

class Stitcher {
 public:
  Stitcher(const std::vector<Edge>& raw, SlicedEdges sliced)
      : raw_(raw), slices_(std::move(sliced.slices)), places_(std::move(sliced.places)) {}

  std::vector<std::vector<Node>> loops() {
    drop_doubles();
    prune();
    collect_leaving();
    for (std::size_t i = 0; i < slices_.size(); ++i) walk_from(i);
    return std::move(chains_);
  }

 private:
  /// Of two slices along each other keeps the one farther out when they run the same way (two raw edges share
  /// a stretch), and none when they run against each other (the gap or the wall between them has no width).
  void drop_doubles() {
    std::vector<bool> gone(slices_.size(), false);
    std::vector<std::vector<std::size_t>> touching(places_.size());
    for (std::size_t i = 0; i < slices_.size(); ++i)
      touching[std::min(slices_[i].from, slices_[i].to)].push_back(i);
    for (const std::vector<std::size_t>& group : touching) {
      for (std::size_t k = 0; k < group.size(); ++k) {
        for (std::size_t l = k + 1; l < group.size(); ++l) {
          const Slice& a = slices_[group[k]];
          const Slice& b = slices_[group[l]];
          if (gone[group[k]] || gone[group[l]]) continue;
          if (std::max(a.from, a.to) != std::max(b.from, b.to)) continue;
          if (haftwright::distance_mm(a.middle, b.middle) > kAlongEachOther_mm) continue;
          const bool same_way = a.from == b.from;
          if (!same_way || a.distance_mm < b.distance_mm) gone[group[k]] = true;
          if (!same_way || a.distance_mm >= b.distance_mm) gone[group[l]] = true;
        }
      }
    }
    keep_unless(gone);
  }

  /// Drops slices that nothing leads to or that lead to nothing, until none is left.
  void prune() {
    for (bool changed = true; changed;) {
      std::vector<int> in(places_.size(), 0);
      std::vector<int> out(places_.size(), 0);
      for (const Slice& slice : slices_) {
        ++out[slice.from];
        ++in[slice.to];
      }
      std::vector<bool> gone(slices_.size(), false);
      changed = false;
      for (std::size_t i = 0; i < slices_.size(); ++i) {
        gone[i] = in[slices_[i].from] == 0 || out[slices_[i].to] == 0;
        changed = changed || gone[i];
      }
      keep_unless(gone);
    }
  }

  void keep_unless(const std::vector<bool>& gone) {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < slices_.size(); ++i) {
      if (!gone[i]) slices_[kept++] = slices_[i];
    }
    slices_.resize(kept);
  }

  void collect_leaving() {
    leaving_.resize(places_.size());
    for (std::size_t i = 0; i < slices_.size(); ++i) leaving_[slices_[i].from].push_back(i);
    used_.assign(slices_.size(), false);
    on_path_.assign(places_.size(), false);
  }

  /// Follows slices from `first`; whenever the path comes back to a place it has passed, that loop is taken
  /// off. A path that ends nowhere is taken back slice by slice.
  void walk_from(std::size_t first) {
    if (used_[first]) return;
    std::vector<std::size_t> path;
    const auto step = [&](std::size_t i) {
      used_[i] = true;
      on_path_[slices_[i].from] = true;
      path.push_back(i);
    };
    step(first);
    while (!path.empty()) {
      const std::size_t place = slices_[path.back()].to;
      if (on_path_[place]) {
        take_loop(path, place);
      } else if (const auto next = leftmost_from(path.back())) {
        step(*next);
      } else {
        on_path_[slices_[path.back()].from] = false;
        path.pop_back();
      }
    }
  }

  void take_loop(std::vector<std::size_t>& path, std::size_t place) {
    auto begin = path.end();
    do {
      --begin;
      on_path_[slices_[*begin].from] = false;
    } while (slices_[*begin].from != place);
    add_chain({begin, path.end()});
    path.erase(begin, path.end());
  }

  /// Direction in which the slice leaves its start (or, `backward`, its end).
  Vec2 look_along(const Slice& slice, bool backward) const {
    const Edge& edge = raw_[slice.raw];
    const double step = std::min((slice.t1 - slice.t0) / 2, kLookAhead_mm / edge.length());
    return backward ? edge.point(slice.t1 - step) - edge.point(slice.t1)
                    : edge.point(slice.t0 + step) - edge.point(slice.t0);
  }

  /// The unused slice that turns most to the left, so that parts touching in a point stay apart.
  std::optional<std::size_t> leftmost_from(std::size_t arriving) const {
    std::optional<std::size_t> best;
    double least = 0;
    const Vec2 back = look_along(slices_[arriving], true);
    for (const std::size_t i : leaving_[slices_[arriving].to]) {
      if (used_[i]) continue;
      const Vec2 out = look_along(slices_[i], false);
      double clockwise = std::atan2(cross(out, back), glm::dot(out, back));
      if (clockwise <= 0) clockwise += 2 * kPi;
      if (best && clockwise >= least) continue;
      best = i;
      least = clockwise;
    }
    return best;
  }

  /// Slices that follow each other on one raw edge become one edge again.
  void add_chain(std::vector<std::size_t> loop) {
    const auto joins = [this](std::size_t a, std::size_t b) {
      return slices_[a].raw == slices_[b].raw && slices_[a].t1 == slices_[b].t0;
    };
    const auto start = std::adjacent_find(loop.begin(), loop.end(),
                                          [&](std::size_t a, std::size_t b) { return !joins(a, b); });
    if (start != loop.end()) std::rotate(loop.begin(), start + 1, loop.end());
    std::vector<Node> chain;
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const Slice& first = slices_[loop[k]];
      while (k + 1 < loop.size() && joins(loop[k], loop[k + 1])) ++k;
      chain.push_back({places_[first.from], bulge_between(first, slices_[loop[k]])});
    }
    chains_.push_back(std::move(chain));
  }

  /// Bulge of the raw edge's part from the start of `first` to the end of `last`, of the same circle though
  /// the shared places lie up to kLeastEdge_mm from the slices' own ends.
  double bulge_between(const Slice& first, const Slice& last) const {
    const Edge& edge = raw_[first.raw];
    if (!edge.is_arc()) return 0;
    const auto shift = [&edge](double t, Vec2 place) {
      return glm::dot(place - edge.point(t), edge.direction(t));
    };
    const double longer = shift(last.t1, places_[last.to]) - shift(first.t0, places_[first.from]);
    return std::tan((edge.sweep * (last.t1 - first.t0) + std::copysign(longer / edge.radius, edge.sweep)) /
                    4);
  }

  const std::vector<Edge>& raw_;
  std::vector<Slice> slices_;
  std::vector<Vec2> places_;
  std::vector<std::vector<std::size_t>> leaving_;
  std::vector<bool> used_;
  std::vector<bool> on_path_;
  std::vector<std::vector<Node>> chains_;
};

}  // namespace

std::vector<std::vector<Node>> geometry::stitch(const std::vector<Edge>& raw, SlicedEdges sliced) {
  return Stitcher(raw, std::move(sliced)).loops();
}

}  // namespace haftwright
