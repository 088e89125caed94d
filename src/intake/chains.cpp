#include "chains.hpp"

#include <tuple>

#include "numbers.hpp"
#include "path_maker.hpp"
#include "point_grid.hpp"

namespace haftwright::intake {
namespace {

// Ends that meet within this meet exactly: what is left of rounding in files with six decimals and more.
constexpr double kExact_mm = 1e-6;

// A path shorter than so many gaps is not closed by joining its own two ends.
constexpr double kLeastOwnLoop = 4;

// More loose ends than this within one gap are a tangle.
constexpr std::size_t kMostNear = 32;

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

Path reversed(const Path& path) {
  Path back = path;
  std::reverse(back.nodes.begin(), back.nodes.end());
  for (std::size_t i = 0; i + 1 < back.nodes.size(); ++i) back.nodes[i].bulge = -back.nodes[i + 1].bulge;
  back.nodes.back().bulge = 0;
  return back;
}

Vec2 middle_of_edge(const Path& path, std::size_t i) {
  return Edge(path.nodes[i].at, path.nodes[i + 1].at, path.nodes[i].bulge).point(0.5);
}

bool same_way(const Path& a, const Path& b) {
  for (std::size_t i = 0; i < a.nodes.size(); ++i)
    if (glm::distance(a.nodes[i].at, b.nodes[i].at) > kSame_mm) return false;
  for (std::size_t i = 0; i + 1 < a.nodes.size(); ++i)
    if (glm::distance(middle_of_edge(a, i), middle_of_edge(b, i)) > kSame_mm) return false;
  return true;
}

bool same(const Path& a, const Path& b) {
  return a.nodes.size() == b.nodes.size() && (same_way(a, b) || same_way(a, reversed(b)));
}

/// The open paths without those that were drawn before.
std::vector<Path> without_doubles(const std::vector<Path>& paths, std::size_t& doubles) {
  std::vector<const Path*> open;
  std::vector<Vec2> middles;
  for (const Path& path : paths) {
    if (path.closed) continue;
    open.push_back(&path);
    middles.push_back((path.nodes.front().at + path.nodes.back().at) / 2.0);
  }
  const PointGrid grid(middles, kSame_mm);
  std::vector<Path> kept;
  for (std::size_t i = 0; i < open.size(); ++i) {
    bool there = false;
    std::size_t looked_at = 0;
    grid.near(middles[i], [&](std::size_t k) {
      if (!there && k < i && ++looked_at <= kMostNear) there = same(*open[i], *open[k]);
    });
    if (there)
      ++doubles;
    else
      kept.push_back(*open[i]);
  }
  return kept;
}

/// Ends are numbered: 2 i is where path i begins, 2 i + 1 where it ends.
class Joiner {
 public:
  Joiner(std::vector<Path> paths, double close_mm) : paths_(std::move(paths)), close_mm_(close_mm) {
    for (const Path& path : paths_) {
      ends_.push_back(path.nodes.front().at);
      ends_.push_back(path.nodes.back().at);
    }
    mate_.assign(ends_.size(), kNone);
  }

  void join(Chains& chains) {
    join_exact();
    join_near(chains);
    std::vector<bool> used(paths_.size(), false);
    // Those with a loose end first: what is left then goes round.
    for (std::size_t end = 0; end < ends_.size(); ++end)
      if (mate_[end] == kNone && !used[end / 2]) chains.open.push_back(walk(end, used));
    for (std::size_t end = 0; end < ends_.size(); end += 2)
      if (!used[end / 2]) chains.closed.push_back(walk(end, used));
  }

 private:
  [[noreturn]] void refuse_fork(std::size_t end) const {
    const Vec2 p = ends_[end];
    throw IntakeError(at_line(paths_[end / 2].line),
                      "more than two lines end at " + place_words(p) +
                          ", so it is not clear which of them goes on; take out what is not the "
                          "outline, or choose a layer");
  }

  static std::string place_words(Vec2 p) {
    return "(" + short_number(p.x) + ", " + short_number(p.y) + ") mm";
  }

  void join_exact() {
    const PointGrid grid(ends_, kExact_mm);
    for (std::size_t end = 0; end < ends_.size(); ++end) {
      std::size_t others = 0;
      std::size_t other = kNone;
      grid.near(ends_[end], [&](std::size_t k) {
        if (k == end) return;
        if (++others > 1) refuse_fork(end);
        other = k;
      });
      if (others == 1) mate_[end] = other;
    }
  }

  struct Gap {
    double width_mm = 0;
    std::size_t a = 0;
    std::size_t b = 0;
  };

  /// All pairs of loose ends that could be joined.
  std::vector<Gap> possible_gaps(const std::vector<std::size_t>& loose) const {
    std::vector<Vec2> places;
    for (const std::size_t end : loose) places.push_back(ends_[end]);
    const PointGrid grid(places, close_mm_);
    std::vector<Gap> gaps;
    for (std::size_t i = 0; i < loose.size(); ++i) {
      std::size_t others = 0;
      grid.near(places[i], [&](std::size_t k) {
        if (k == i) return;
        if (++others > kMostNear) refuse_fork(loose[i]);
        const bool own = loose[i] / 2 == loose[k] / 2;
        if (k < i || (own && length_mm(paths_[loose[i] / 2]) < kLeastOwnLoop * close_mm_)) return;
        gaps.push_back({glm::distance(places[i], places[k]), loose[i], loose[k]});
      });
    }
    std::sort(gaps.begin(), gaps.end(), [](const Gap& x, const Gap& y) {
      return std::tie(x.width_mm, x.a, x.b) < std::tie(y.width_mm, y.a, y.b);
    });
    return gaps;
  }

  void join_near(Chains& chains) {
    std::vector<std::size_t> loose;
    for (std::size_t end = 0; end < ends_.size(); ++end)
      if (mate_[end] == kNone) loose.push_back(end);
    const std::vector<Gap> gaps = possible_gaps(loose);
    for (const Gap& gap : gaps) {
      if (mate_[gap.a] != kNone || mate_[gap.b] != kNone) continue;
      mate_[gap.a] = gap.b;
      mate_[gap.b] = gap.a;
      ++chains.gaps;
      chains.largest_gap_mm = std::max(chains.largest_gap_mm, gap.width_mm);
    }
    // One that is left over beside a joint would have gone on there as well.
    for (const Gap& gap : gaps)
      if ((mate_[gap.a] == kNone) != (mate_[gap.b] == kNone))
        refuse_fork(mate_[gap.a] == kNone ? gap.a : gap.b);
  }

  /// Goes along from an end to the next loose one, or round.
  Path walk(std::size_t first, std::vector<bool>& used) const {
    Path chain;
    chain.layer = paths_[first / 2].layer;
    chain.line = paths_[first / 2].line;
    for (std::size_t end = first;;) {
      used[end / 2] = true;
      append(chain, end % 2 == 0 ? paths_[end / 2] : reversed(paths_[end / 2]));
      const std::size_t next = mate_[end ^ 1];
      if (next == kNone) return chain;
      if (next == first) break;
      end = next;
    }
    chain.closed = true;
    chain.nodes.front().at = joint(chain.nodes.back().at, chain.nodes.front().at);
    chain.nodes.pop_back();
    return chain;
  }

  static Vec2 joint(Vec2 a, Vec2 b) { return glm::distance(a, b) <= kExact_mm ? a : (a + b) / 2.0; }

  static void append(Path& chain, const Path& path) {
    chain.deviation_mm = std::max(chain.deviation_mm, path.deviation_mm);
    std::size_t from = 0;
    if (!chain.nodes.empty()) {
      chain.nodes.back() = {joint(chain.nodes.back().at, path.nodes.front().at), path.nodes.front().bulge};
      from = 1;
    }
    chain.nodes.insert(chain.nodes.end(), path.nodes.begin() + static_cast<std::ptrdiff_t>(from),
                       path.nodes.end());
  }

  std::vector<Path> paths_;
  double close_mm_;
  std::vector<Vec2> ends_;
  std::vector<std::size_t> mate_;
};

}  // namespace

double length_mm(const Path& path) {
  double length = 0;
  const std::size_t n = path.nodes.size();
  for (std::size_t i = 0; i + (path.closed ? 0 : 1) < n; ++i)
    length += Edge(path.nodes[i].at, path.nodes[(i + 1) % n].at, path.nodes[i].bulge).length();
  return length;
}

Chains joined(const std::vector<Path>& paths, double close_mm) {
  Chains chains;
  for (const Path& path : paths)
    if (path.closed) chains.closed.push_back(path);
  Joiner(without_doubles(paths, chains.doubles), close_mm).join(chains);
  return chains;
}

}  // namespace haftwright::intake
