#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>

#include "edge_geometry.hpp"
#include "haftwright/geometry/edge_measures.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/geometry/segment.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

namespace {

// No fitted arc turns by more than about 250 degrees: a circle becomes two arcs, and a chord always says
// enough of its arc.
constexpr double kLargestFitBulge = 2;

// Between two given points the chain may leave the straight line that joins them by this many tolerances. It
// keeps few and far points (the corners of a square) from being taken for a circle.
constexpr double kBetweenPoints = 2;

// A run's end may be one stray point: so many points past it are tried too.
constexpr std::size_t kPastStrayPoint = 8;

// Halvings of the tolerance's exponent, and the share of it below which nothing is gained.
constexpr int kTightenings = 16;
constexpr double kTightest = 1e-6;

enum class Ends { joined, open };

class Fitter {
 public:
  Fitter(std::span<const Vec2> given, Ends ends) : ends_(ends) {
    for (const Vec2 p : given) {
      if (points_.empty() || distance_mm(points_.back(), p) >= kLeastEdge_mm) points_.push_back(p);
    }
    if (ends == Ends::open) {
      if (points_.size() > 1) points_.back() = given.back();
      return;
    }
    while (points_.size() > 1 && distance_mm(points_.back(), points_.front()) < kLeastEdge_mm)
      points_.pop_back();
  }

  std::size_t count() const { return points_.size(); }

  /// Longest runs one after another. A first run only serves to find where runs part, so that the chain does
  /// not start in the middle of an edge.
  std::vector<Node> chain(double tolerance_mm) const {
    if (ends_ == Ends::open) return open_chain(tolerance_mm);
    const std::size_t start = longest_run(0, count() - 1, tolerance_mm).length % count();
    std::vector<Node> nodes;
    for (std::size_t done = 0; done < count();) {
      const std::size_t from = start + done;
      const Run run = longest_run(from, std::min(count() - done, count() - 1), tolerance_mm);
      nodes.push_back({at(from), run.bulge});
      done += run.length;
    }
    return nodes;
  }

  /// How far an open chain and the points' polyline leave each other, each edge against its own run.
  double largest_deviation_both_ways_mm(const std::vector<Node>& chain, double step_mm) const {
    double largest = 0;
    std::size_t first = 0;
    for (std::size_t n = 0; n + 1 < chain.size(); ++n) {
      const Edge edge(chain[n].at, chain[n + 1].at, chain[n].bulge);
      std::size_t last = first + 1;
      while (last + 1 < count() && at(last) != edge.to) ++last;
      for (std::size_t i = first; i <= last; ++i)
        largest = std::max(largest, std::sqrt(foot_on(edge, at(i)).distance_squared));
      std::vector<Vec2> along;
      add_points_along(edge, step_mm, along);
      for (const Vec2 p : along) {
        double nearest = std::numeric_limits<double>::infinity();
        for (std::size_t i = first; i < last; ++i)
          nearest = std::min(nearest, distance_to_segment_mm(p, at(i), at(i + 1)));
        largest = std::max(largest, nearest);
      }
      first = last;
    }
    return largest;
  }

 private:
  struct Run {
    std::size_t length = 1;
    double bulge = 0;
  };

  std::vector<Node> open_chain(double tolerance_mm) const {
    std::vector<Node> nodes;
    for (std::size_t from = 0; from + 1 < count();) {
      const Run run = longest_run(from, count() - 1 - from, tolerance_mm);
      nodes.push_back({at(from), run.bulge});
      from += run.length;
    }
    nodes.push_back({points_.back(), 0});
    return nodes;
  }

  Vec2 at(std::size_t i) const { return points_[i % points_.size()]; }

  /// Bulge of the arc from a to b through p: the turn from the chord a p to the chord p b is half the sweep.
  static double bulge_through(Vec2 a, Vec2 p, Vec2 b) {
    const Vec2 in = p - a;
    const Vec2 out = b - p;
    return cross(in, out) / (std::sqrt(length_squared(in) * length_squared(out)) + glm::dot(in, out));
  }

  /// Narrows the bulges of arcs from a to b to those that pass p within the tolerance (to first order: fits()
  /// looks again).
  static void narrow(double& low, double& high, Vec2 a, Vec2 p, Vec2 b, double tolerance_mm) {
    const double before = length_squared(p - a);
    const double after = length_squared(b - p);
    if (std::min(before, after) <= tolerance_mm * tolerance_mm) return;
    const Vec2 along = (p - a) / before + (b - p) / after;  // of the arc from a to b at p
    const Vec2 aside = turned_left(along) * (tolerance_mm / std::sqrt(length_squared(along)));
    const double left = bulge_through(a, p + aside, b);
    const double right = bulge_through(a, p - aside, b);
    low = std::max(low, std::min(left, right));
    high = std::min(high, std::max(left, right));
  }

  bool fits(const Edge& edge, std::size_t from, std::size_t length, double tolerance_mm) const {
    const double limit = tolerance_mm * tolerance_mm;
    for (std::size_t i = from; i < from + length; ++i) {
      const Vec2 between = (at(i) + at(i + 1)) / 2.0;
      if (foot_on(edge, at(i)).distance_squared > limit) return false;
      if (foot_on(edge, between).distance_squared > kBetweenPoints * kBetweenPoints * limit) return false;
    }
    return true;
  }

  /// The bulge with which one edge replaces the polyline from point `from` over `length` segments.
  std::optional<double> bulge_of_run(std::size_t from, std::size_t length, double tolerance_mm) const {
    if (length == 1) return 0;
    const Vec2 a = at(from);
    const Vec2 b = at(from + length);
    if (distance_mm(a, b) < kLeastEdge_mm) return std::nullopt;
    double low = -kLargestFitBulge;
    double high = kLargestFitBulge;
    for (std::size_t i = from; i < from + length && low <= high; ++i) {
      if (i != from) narrow(low, high, a, at(i), b, tolerance_mm);
      narrow(low, high, a, (at(i) + at(i + 1)) / 2.0, b, kBetweenPoints * tolerance_mm);
    }
    if (low > high) return std::nullopt;
    const double bulge = low <= 0 && 0 <= high ? 0 : (low + high) / 2;
    if (!fits(Edge(a, b, bulge), from, length, tolerance_mm)) return std::nullopt;
    return bulge;
  }

  /// The longest run found by doubling, then halving, then looking past a stray point.
  Run longest_run(std::size_t from, std::size_t longest, double tolerance_mm) const {
    Run best;
    const auto reaches = [&](std::size_t length) {
      const auto bulge = bulge_of_run(from, length, tolerance_mm);
      if (bulge) best = {length, *bulge};
      return bulge.has_value();
    };
    for (bool longer = true; longer;) {
      longer = false;
      std::size_t step = 1;
      while (best.length + step <= longest && reaches(best.length + step)) step *= 2;
      for (; step > 0; step /= 2) {
        if (best.length + step <= longest) reaches(best.length + step);
      }
      for (std::size_t past = 2; past <= kPastStrayPoint && !longer && best.length + past <= longest;
           ++past) {
        longer = reaches(best.length + past);
      }
    }
    return best;
  }

  Ends ends_;
  std::vector<Vec2> points_;
};

double largest_deviation_mm(std::span<const Vec2> points, const std::vector<Node>& chain) {
  const Outline fitted = Outline::trusted(chain);
  double largest = 0;
  for (const Vec2 p : points) largest = std::max(largest, fitted.nearest(p).distance_mm);
  return largest;
}

void require_points(std::span<const Vec2> points, double tolerance_mm) {
  if (!(tolerance_mm > 0) || !std::isfinite(tolerance_mm)) {
    throw std::invalid_argument("the tolerance of a fit must be above 0");
  }
  for (const Vec2 p : points) {
    if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
      throw std::invalid_argument("the points to fit must be finite numbers");
    }
  }
}

/// Longest runs overshoot the joints as far as the tolerance lets them. The least tolerance that needs no
/// more edges puts the joints where they belong.
std::vector<Node> tightest_chain(const Fitter& fitter, double tolerance_mm) {
  std::vector<Node> chain = fitter.chain(tolerance_mm);
  double share_low = kTightest;
  double share_high = 1;
  for (int i = 0; i < kTightenings; ++i) {
    const double share = std::sqrt(share_low * share_high);
    std::vector<Node> tighter = fitter.chain(share * tolerance_mm);
    const bool as_good = tighter.size() <= chain.size();
    if (as_good) chain = std::move(tighter);
    (as_good ? share_high : share_low) = share;
  }
  return chain;
}

}  // namespace

ArcFit fit_arcs(std::span<const Vec2> closed_polyline, double tolerance_mm) {
  require_points(closed_polyline, tolerance_mm);
  const Fitter fitter(closed_polyline, Ends::joined);
  if (fitter.count() < 3) throw std::invalid_argument("a fit needs at least 3 different points");
  ArcFit fit{tightest_chain(fitter, tolerance_mm), 0};
  fit.largest_deviation_mm = largest_deviation_mm(closed_polyline, fit.chain);
  return fit;
}

ArcFit fit_open_arcs(std::span<const Vec2> open_polyline, double tolerance_mm) {
  require_points(open_polyline, tolerance_mm);
  const Fitter fitter(open_polyline, Ends::open);
  if (fitter.count() < 2) throw std::invalid_argument("a fit needs at least 2 different points");
  ArcFit fit{tightest_chain(fitter, tolerance_mm), 0};
  fit.largest_deviation_mm = fitter.largest_deviation_both_ways_mm(fit.chain, tolerance_mm / 10);
  return fit;
}

}  // namespace haftwright
