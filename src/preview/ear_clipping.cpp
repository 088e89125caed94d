#include "haftwright/preview/ear_clipping.hpp"

#include <algorithm>
#include <limits>

namespace haftwright {
namespace {

double signed_area(const FlatLoop& loop) {
  double twice = 0;
  for (std::size_t i = 0, before = loop.at.size() - 1; i < loop.at.size(); before = i++)
    twice += cross(loop.at[before] - loop.at[0], loop.at[i] - loop.at[0]);
  return twice / 2;
}

bool contains(const FlatLoop& loop, Vec2 p) {
  bool inside = false;
  Vec2 from = loop.at.back();
  for (const Vec2 to : loop.at) {
    if ((from.y > p.y) != (to.y > p.y) && p.x < from.x + (to.x - from.x) * (p.y - from.y) / (to.y - from.y))
      inside = !inside;
    from = to;
  }
  return inside;
}

std::size_t rightmost(const FlatLoop& loop) {
  const auto found =
      std::max_element(loop.at.begin(), loop.at.end(), [](Vec2 a, Vec2 b) { return a.x < b.x; });
  return static_cast<std::size_t>(found - loop.at.begin());
}

bool in_triangle(Vec2 p, Vec2 a, Vec2 b, Vec2 c) {
  return cross(b - a, p - a) >= 0 && cross(c - b, p - b) >= 0 && cross(a - c, p - c) >= 0;
}

/// Whether the loop's inside, as its corner i sees it, lies toward p.
bool opens_toward(const FlatLoop& loop, std::size_t i, Vec2 p) {
  const std::size_t count = loop.at.size();
  const Vec2 here = loop.at[i];
  const Vec2 in = here - loop.at[(i + count - 1) % count];
  const Vec2 out = loop.at[(i + 1) % count] - here;
  const bool left_of_in = cross(in, p - here) > 0;
  const bool left_of_out = cross(out, p - here) > 0;
  return cross(in, out) >= 0 ? left_of_in && left_of_out : left_of_in || left_of_out;
}

/// Where bridges have left several corners in one place: the one from which p is seen.
std::size_t seen_from(const FlatLoop& loop, std::size_t corner, Vec2 p) {
  if (opens_toward(loop, corner, p)) return corner;
  for (std::size_t i = 0; i < loop.at.size(); ++i)
    if (loop.at[i] == loop.at[corner] && opens_toward(loop, i, p)) return i;
  return corner;
}

/// The corner of `outer` that the hole's rightmost corner m can be joined to: straight to the right of m lies
/// an edge; of its end and all corners inside the triangle to it, the one most nearly straight ahead, and of
/// those in one line the nearest.
std::size_t bridge_end(const FlatLoop& outer, Vec2 m) {
  const std::size_t count = outer.at.size();
  double nearest = std::numeric_limits<double>::infinity();
  std::size_t best = 0;
  Vec2 hit = m;
  for (std::size_t i = 0; i < count; ++i) {
    const Vec2 a = outer.at[i];
    const Vec2 b = outer.at[(i + 1) % count];
    if (!(a.y <= m.y && b.y > m.y)) continue;
    const double x = a.x + (b.x - a.x) * (m.y - a.y) / (b.y - a.y);
    if (x < m.x || x >= nearest) continue;
    nearest = x;
    hit = {x, m.y};
    best = a.x > b.x ? i : (i + 1) % count;
  }
  const Vec2 end = outer.at[best];
  double straightest = std::numeric_limits<double>::infinity();
  nearest = straightest;
  std::size_t chosen = best;
  for (std::size_t i = 0; i < count; ++i) {
    const Vec2 p = outer.at[i];
    const bool inside = end.y < m.y ? in_triangle(p, m, end, hit) : in_triangle(p, m, hit, end);
    if (!inside || p.x <= m.x) continue;
    const double slope = std::abs(p.y - m.y) / (p.x - m.x);
    if (slope > straightest || (slope == straightest && p.x >= nearest)) continue;
    straightest = slope;
    nearest = p.x;
    chosen = i;
  }
  return seen_from(outer, chosen, m);
}

void join(FlatLoop& outer, const FlatLoop& hole) {
  const std::size_t start = rightmost(hole);
  const std::size_t end = bridge_end(outer, hole.at[start]);
  FlatLoop joined;
  const auto take = [&joined](const FlatLoop& from, std::size_t i) {
    joined.corner.push_back(from.corner[i]);
    joined.at.push_back(from.at[i]);
  };
  for (std::size_t i = 0; i <= end; ++i) take(outer, i);
  for (std::size_t k = 0; k <= hole.at.size(); ++k) take(hole, (start + k) % hole.at.size());
  for (std::size_t i = end; i < outer.at.size(); ++i) take(outer, i);
  outer = std::move(joined);
}

/// Clips ears of one loop until nothing is left. When rounding has left no proper ear, the corner that comes
/// nearest to one goes.
class Clipper {
 public:
  Clipper(const FlatLoop& loop, std::vector<std::array<std::uint32_t, 3>>& triangles)
      : loop_(loop), triangles_(triangles) {}

  void run() {
    const std::size_t count = loop_.at.size();
    next_.resize(count);
    before_.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
      next_[i] = (i + 1) % count;
      before_[(i + 1) % count] = i;
    }
    // Only these can lie inside an ear; clipping others never adds to them.
    for (std::size_t i = 0; i < count; ++i)
      if (!(turn(i) > 0)) reflex_.push_back(i);
    gone_.assign(count, 0);
    std::size_t left = count;
    std::size_t at = 0;
    std::size_t tried = 0;
    while (left > 2) {
      if (tried >= left) {
        clip(fallback(at, left));
        at = at_after_;
        tried = 0;
        --left;
      } else if (is_ear(at)) {
        clip(at);
        // Going on after the next corner spreads the triangles instead of fanning them out of one corner.
        at = next_[at_after_];
        tried = 0;
        --left;
      } else {
        at = next_[at];
        ++tried;
      }
    }
  }

 private:
  double turn(std::size_t i) const {
    return cross(loop_.at[i] - loop_.at[before_[i]], loop_.at[next_[i]] - loop_.at[i]);
  }
  bool is_ear(std::size_t i) const {
    if (!(turn(i) > 0)) return false;
    const Vec2 a = loop_.at[before_[i]];
    const Vec2 b = loop_.at[i];
    const Vec2 c = loop_.at[next_[i]];
    for (const std::size_t k : reflex_) {
      const Vec2 p = loop_.at[k];
      if (gone_[k] || p == a || p == b || p == c) continue;
      if (in_triangle(p, a, b, c)) return false;
    }
    return true;
  }
  std::size_t fallback(std::size_t start, std::size_t left) const {
    std::size_t best = start;
    double best_turn = -std::numeric_limits<double>::infinity();
    for (std::size_t k = 0, i = start; k < left; ++k, i = next_[i]) {
      // A corner without area does no harm; else the sharpest.
      const double here = turn(i) == 0 ? std::numeric_limits<double>::infinity() : turn(i);
      if (here <= best_turn) continue;
      best_turn = here;
      best = i;
    }
    return best;
  }
  void clip(std::size_t i) {
    const std::size_t from = before_[i];
    const std::size_t to = next_[i];
    triangles_.push_back({loop_.corner[from], loop_.corner[i], loop_.corner[to]});
    next_[from] = to;
    before_[to] = from;
    gone_[i] = 1;
    at_after_ = to;
  }

  const FlatLoop& loop_;
  std::vector<std::array<std::uint32_t, 3>>& triangles_;
  std::vector<std::size_t> next_;
  std::vector<std::size_t> before_;
  std::vector<std::size_t> reflex_;
  std::vector<char> gone_;
  std::size_t at_after_ = 0;
};

}  // namespace

std::vector<std::array<std::uint32_t, 3>> clip_ears(std::vector<FlatLoop> loops) {
  std::vector<FlatLoop> outers;
  std::vector<FlatLoop> holes;
  for (FlatLoop& loop : loops) (signed_area(loop) > 0 ? outers : holes).push_back(std::move(loop));
  // Holes from right to left: a bridge goes to the right and may end on a hole joined before.
  std::sort(holes.begin(), holes.end(),
            [](const FlatLoop& a, const FlatLoop& b) { return a.at[rightmost(a)].x > b.at[rightmost(b)].x; });
  std::vector<FlatLoop> astray;
  for (FlatLoop& hole : holes) {
    FlatLoop* round = nullptr;
    for (FlatLoop& outer : outers)
      if (contains(outer, hole.at[rightmost(hole)])) round = &outer;
    if (round)
      join(*round, hole);
    else
      astray.push_back(std::move(hole));  // turned over by rounding: closed on its own
  }
  std::vector<std::array<std::uint32_t, 3>> triangles;
  for (const std::vector<FlatLoop>* group : {&outers, &astray})
    for (const FlatLoop& loop : *group) Clipper(loop, triangles).run();
  return triangles;
}

std::vector<std::array<std::uint32_t, 3>> fill(const std::vector<Vec2>& loop,
                                               const std::vector<std::vector<Vec2>>& openings) {
  if (loop.size() < 3) return {};
  std::vector<FlatLoop> loops;
  std::uint32_t next = 0;
  const auto add = [&](const std::vector<Vec2>& at, bool counter_clockwise) {
    if (at.size() < 3) {
      next += static_cast<std::uint32_t>(at.size());
      return;
    }
    FlatLoop flat{{}, at};
    for (std::size_t i = 0; i < at.size(); ++i) flat.corner.push_back(next++);
    if ((signed_area(flat) > 0) != counter_clockwise) {
      std::reverse(flat.corner.begin(), flat.corner.end());
      std::reverse(flat.at.begin(), flat.at.end());
    }
    loops.push_back(std::move(flat));
  };
  add(loop, true);
  for (const std::vector<Vec2>& opening : openings) add(opening, false);
  return clip_ears(std::move(loops));
}

}  // namespace haftwright
