#include "haftwright/nesting/shortfalls.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "checks.hpp"
#include "obstacles.hpp"
#include "turns.hpp"

namespace haftwright::nesting {

using namespace inner;

namespace {

constexpr double kLeastSize = 0.1;  ///< of the shape's length, width or scale
constexpr double kMostPlayDeg = 180;

/// A shape, a stock and rules that can be made easier in one way by an amount.
struct Case {
  Stock stock;
  Polygon shape;
  Angles angles;
  Rules rules;
  std::vector<Obstacle> obstacles;
};

std::optional<Place> place_of(const Case& c) {
  const FitFound found =
      fit_in(room_of(c.stock, c.rules), c.shape, c.angles, others_of(c.obstacles, c.rules));
  if (found.answer != Answer::yes) return std::nullopt;
  return Place{to_mm(found.at), found.angle_deg};
}

using Ease = std::function<void(Case&, double amount)>;

/// The least amount, in steps much finer than kAmountStep of `unit`, that gives the shape a place.
void add_least(std::vector<Shortfall>& list, const Case& strict, Relaxation what, double most, double unit,
               const Ease& ease) {
  if (most <= 0) return;
  const auto place_with = [&](double amount) {
    Case eased = strict;
    ease(eased, amount);
    return place_of(eased);
  };
  std::optional<Place> place = place_with(most);
  if (!place) return;
  double low = 0, high = most;
  while (high - low > kAmountStep * unit / 4) {
    const double middle = (low + high) / 2;
    const std::optional<Place> there = place_with(middle);
    if (there) place = there;
    (there ? high : low) = middle;
  }
  list.push_back({what, 0, high, *place});
}

void add_without(std::vector<Shortfall>& list, const Case& strict) {
  for (std::size_t k = 0; k < strict.stock.keep_outs.size(); ++k) {
    Case eased = strict;
    eased.stock.keep_outs.erase(eased.stock.keep_outs.begin() + static_cast<std::ptrdiff_t>(k));
    if (const auto place = place_of(eased)) list.push_back({Relaxation::keep_out, k, 1, *place});
  }
  for (std::size_t k = 0; k < strict.obstacles.size(); ++k) {
    Case eased = strict;
    eased.obstacles.erase(eased.obstacles.begin() + static_cast<std::ptrdiff_t>(k));
    if (const auto place = place_of(eased)) list.push_back({Relaxation::obstacle, k, 1, *place});
  }
}

Vec2 size_mm(const Polygon& shape) {
  const Box box = box_of(to_grid(shape));
  return to_mm(Point{box.right - box.left, box.top - box.bottom});
}

double distance_um(const Point& p, const Point& a, const Point& b) {
  const Vec2 d{static_cast<double>((b - a).X), static_cast<double>((b - a).Y)};
  const Vec2 v{static_cast<double>((p - a).X), static_cast<double>((p - a).Y)};
  const double t = std::clamp(glm::dot(v, d) / glm::dot(d, d), 0.0, 1.0);
  return glm::length(v - t * d);
}

double distance_um(const Point& p, const Path& path) {
  double least = 1e300;
  for (std::size_t i = 0; i < path.size(); ++i)
    least = std::min(least, distance_um(p, path[i], next(path, i)));
  return least;
}

/// How far a point is where it may not be.
double excess_um(const Room& room, const Others& others, const Point& p) {
  const auto holds_it = [&](const Path& path) { return holds(path, {3 * p.X, 3 * p.Y}); };
  double most = 0;
  if (std::none_of(room.usable.begin(), room.usable.end(), holds_it)) {
    most = 1e300;
    for (const Path& path : room.usable) most = std::min(most, distance_um(p, path));
  }
  for (const Path& path : room.keep_outs)
    if (holds_it(path)) most = std::max(most, distance_um(p, path));
  for (const Path& path : others.outlines) {
    double depth = 1e300;
    for (std::size_t i = 0; i < path.size(); ++i) {
      const Point d = next(path, i) - path[i];
      const double inside = static_cast<double>(side(path[i], next(path, i), p)) /
                            std::hypot(static_cast<double>(d.X), static_cast<double>(d.Y));
      depth = std::min(depth, inside + static_cast<double>(others.gap));
    }
    most = std::max(most, depth);
  }
  return most;
}

/// Of the places that the shrunk shape has, one where the full one's corners stick out least, all together: a
/// corner of the free space, or midway between two.
std::optional<Point> least_overhang(const Room& room, const Path& outline, const Path& smaller,
                                    const Others& others) {
  const Turned shape = turned_of(smaller);
  std::vector<Point> places = free_corners(room, shape, others);
  const std::size_t corners = std::min<std::size_t>(places.size(), 40);
  for (std::size_t i = 0; i < corners; ++i)
    for (std::size_t j = i + 1; j < corners; ++j) {
      const Point middle{(places[i].X + places[j].X) / 2, (places[i].Y + places[j].Y) / 2};
      if (legal_at(room, shape.full, others, middle)) places.push_back(middle);
    }
  std::optional<Point> best;
  double least = 0;
  for (const Point& place : places) {
    double sum = 0;
    for (const Point& p : outline) sum += excess_um(room, others, p + place);
    if (best && sum >= least) continue;
    best = place;
    least = sum;
  }
  return best;
}

}  // namespace

Polygon eased_shape(const Polygon& shape, Relaxation what, double amount) {
  Vec2 factor{1, 1};
  if (what == Relaxation::scale) factor = Vec2{1 - amount, 1 - amount};
  if (what == Relaxation::length) factor.x = 1 - amount / size_mm(shape).x;
  if (what == Relaxation::width) factor.y = 1 - amount / size_mm(shape).y;
  Polygon result = shape;
  for (Vec2& p : result) p *= factor;
  return result;
}

std::vector<Shortfall> shortfalls(const Stock& stock, const Polygon& shape, const Angles& angles,
                                  const Rules& rules, std::span<const Obstacle> obstacles) {
  check_single(stock, shape, {&angles, 1}, rules, obstacles);
  const Case strict{stock, shape, angles, rules, {obstacles.begin(), obstacles.end()}};
  std::vector<Shortfall> list;
  if (place_of(strict)) return list;
  const Vec2 size = size_mm(shape);
  const auto smaller = [&](Relaxation what, double most, double unit) {
    add_least(list, strict, what, most * (1 - kLeastSize), unit,
              [&shape, what](Case& c, double amount) { c.shape = eased_shape(shape, what, amount); });
  };
  smaller(Relaxation::length, size.x, 1);
  smaller(Relaxation::width, size.y, 1);
  smaller(Relaxation::scale, 1, 0.01);
  add_least(list, strict, Relaxation::angle, kMostPlayDeg - angles.play_deg, 1,
            [&](Case& c, double deg) { c.angles.play_deg += deg; });
  add_least(list, strict, Relaxation::kerf, obstacles.empty() ? 0 : rules.kerf_mm, 1,
            [&](Case& c, double mm) { c.rules.kerf_mm = std::max(rules.kerf_mm - mm, 0.0); });
  add_least(list, strict, Relaxation::trim, stock.trim_mm, 1,
            [&](Case& c, double mm) { c.stock.trim_mm = std::max(stock.trim_mm - mm, 0.0); });
  add_least(
      list, strict, Relaxation::margin, stock.keep_outs.empty() ? 0 : rules.defect_margin_mm, 1,
      [&](Case& c, double mm) { c.rules.defect_margin_mm = std::max(rules.defect_margin_mm - mm, 0.0); });
  add_without(list, strict);
  return list;
}

std::optional<NearMiss> near_miss(const Stock& stock, const Polygon& shape, double angle_deg,
                                  const Rules& rules, std::span<const Obstacle> obstacles) {
  const Angles angles{angle_deg, 0};
  check_single(stock, shape, {&angles, 1}, rules, obstacles);
  const Room room = room_of(stock, rules);
  const Others others = others_of(obstacles, rules);
  const Path outline = turned(shape, angle_deg);
  if (any_place(room, turned_of(outline), others)) return std::nullopt;
  const Box box = box_of(outline);
  double low = 0, high = static_cast<double>(std::min(box.right - box.left, box.top - box.bottom)) / 2;
  std::optional<Point> best;
  while (high - low > kAmountStep * kPerMm / 4) {
    const double middle = (low + high) / 2;
    const std::optional<Path> smaller = shrunk(outline, middle);
    // Nothing left of it: no place that says anything.
    const std::optional<Point> at = smaller ? any_place(room, turned_of(*smaller), others) : std::nullopt;
    if (at) best = at;
    (at || !smaller ? high : low) = middle;
  }
  if (!best) return std::nullopt;
  best = least_overhang(room, outline, *shrunk(outline, high), others).value_or(*best);
  NearMiss miss{{to_mm(*best), angle_deg}, high / kPerMm, {}};
  constexpr Int steps = 32;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point a = outline[i] + *best;
    const Point d = next(outline, i) - outline[i];
    double most = 0;
    for (Int k = 0; k <= steps; ++k)
      most = std::max(most, excess_um(room, others, {a.X + d.X * k / steps, a.Y + d.Y * k / steps}));
    if (most >= 1) miss.edges.push_back({to_mm(a), to_mm(a + d), most / kPerMm});
  }
  return miss;
}

}  // namespace haftwright::nesting
