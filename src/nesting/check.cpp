// What a Problem must be, field by field.
#include <algorithm>
#include <cmath>
#include <string>

#include "checks.hpp"
#include "grid.hpp"

namespace haftwright::nesting {

namespace {

using inner::Path;
using inner::Point;

constexpr double kFarthestMm = 20'000;

[[noreturn]] void refuse(const std::string& field, const std::string& what) {
  throw std::invalid_argument(field + ": " + what);
}

std::string item(const std::string& list, std::size_t index) {
  return list + "[" + std::to_string(index) + "]";
}

void check_amount(double value, double most, const std::string& field) {
  if (!(value >= 0 && value <= most)) refuse(field, "must be from 0 to " + std::to_string(std::lround(most)));
}

void check_index(std::size_t index, std::size_t count, const std::string& field) {
  if (index >= count)
    refuse(field, "is " + std::to_string(index) + ", but there are only " + std::to_string(count));
}

bool cross_or_touch(const Point& a, const Point& b, const Point& c, const Point& d) {
  const auto sign = [](inner::Int x) { return (x > 0) - (x < 0); };
  const int u = sign(inner::side(a, b, c)), v = sign(inner::side(a, b, d));
  const int s = sign(inner::side(c, d, a)), t = sign(inner::side(c, d, b));
  if (u == 0 && v == 0 && s == 0 && t == 0)
    return !inner::apart(inner::box_of({a, b}), inner::box_of({c, d}));
  return u * v <= 0 && s * t <= 0;
}

void check_angles(const Angles& angles, const std::string& field) {
  if (!std::isfinite(angles.middle_deg) || std::abs(angles.middle_deg) > 3600)
    refuse(field + ".middle_deg", "must be a number of degrees from -3600 to 3600");
  check_amount(angles.play_deg, 180, field + ".play_deg");
}

/// So that it is no line once it is turned and rounded.
void check_shape(const Polygon& shape, const std::string& field) {
  constexpr double thinnest_mm = 0.05;
  check_polygon(shape, field);
  const Path hull = inner::hull(inner::to_grid(shape));
  double longest = 0;
  for (const Point& p : hull)
    for (const Point& q : hull) longest = std::max(longest, glm::distance(inner::to_mm(p), inner::to_mm(q)));
  if (inner::area_mm2(hull) < thinnest_mm * longest) refuse(field, "must be at least 0.05 mm thick");
}

void check_part(const Part& part, std::size_t stocks, const std::string& field) {
  check_shape(part.shape, field + ".shape");
  for (std::size_t i = 0; i < part.candidates.size(); ++i) {
    const Candidate& candidate = part.candidates[i];
    const std::string name = item(field + ".candidates", i);
    check_index(candidate.stock, stocks, name + ".stock");
    check_amount(candidate.penalty, 1e9, name + ".penalty");
    check_amount(candidate.penalty_per_deg, 1e6, name + ".penalty_per_deg");
    for (std::size_t k = 0; k < candidate.angles.size(); ++k)
      check_angles(candidate.angles[k], item(name + ".angles", k));
  }
}

void check_fixed(const Problem& problem, const Fixed& fixed, const std::string& field) {
  check_index(fixed.demand, problem.demands.size(), field + ".demand");
  const Demand& demand = problem.demands[fixed.demand];
  check_index(fixed.way, demand.ways.size(), field + ".way");
  check_index(fixed.part, demand.ways[fixed.way].parts.size(), field + ".part");
  check_index(fixed.stock, problem.stocks.size(), field + ".stock");
  check_place(fixed.at_mm, field + ".at_mm");
  check_angles({fixed.angle_deg, 0}, field);
  for (const Fixed& other : problem.fixed) {
    if (&other == &fixed) break;
    if (other.demand != fixed.demand) continue;
    if (other.way != fixed.way) refuse(field + ".way", "another part of this demand is fixed by another way");
    if (other.part == fixed.part) refuse(field + ".part", "this part is fixed already");
  }
}

}  // namespace

void check_polygon(const Polygon& polygon, const std::string& field) {
  if (polygon.size() < 3) refuse(field, "must have at least 3 corners");
  for (std::size_t i = 0; i < polygon.size(); ++i)
    if (!(std::abs(polygon[i].x) <= kFarthestMm && std::abs(polygon[i].y) <= kFarthestMm))
      refuse(item(field, i), "must be within 20,000 mm");
  const Path path = inner::to_grid(polygon);
  const std::size_t n = path.size();
  if (n < 3) refuse(field, "must enclose an area");
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 2; j < n; ++j)
      if (!(i == 0 && j == n - 1) &&
          cross_or_touch(path[i], inner::next(path, i), path[j], inner::next(path, j)))
        refuse(field, "must not cross or touch itself");
  if (ClipperLib::Area(path) == 0) refuse(field, "must enclose an area");
}

void check_rules(const Rules& rules) {
  check_amount(rules.kerf_mm, 1000, "rules.kerf_mm");
  check_amount(rules.defect_margin_mm, 1000, "rules.defect_margin_mm");
  check_amount(rules.useful_length_mm, 1e6, "rules.useful_length_mm");
  check_amount(rules.useful_width_mm, 1e6, "rules.useful_width_mm");
  for (std::size_t i = 0; i < rules.order.size(); ++i)
    if (std::find(rules.order.begin(), rules.order.begin() + static_cast<std::ptrdiff_t>(i),
                  rules.order[i]) != rules.order.begin() + static_cast<std::ptrdiff_t>(i))
      refuse(item("rules.order", i), "must name each preference once");
}

void check_stock(const Stock& stock, const std::string& field) {
  check_polygon(stock.outline, field + ".outline");
  for (std::size_t k = 0; k < stock.keep_outs.size(); ++k)
    check_polygon(stock.keep_outs[k], item(field + ".keep_outs", k));
  check_amount(stock.trim_mm, 1000, field + ".trim_mm");
}

void check_single(const Stock& stock, const Polygon& shape, std::span<const Angles> angles,
                  const Rules& rules, std::span<const Obstacle> obstacles) {
  check_rules(rules);
  check_stock(stock, "stock");
  check_shape(shape, "shape");
  for (std::size_t i = 0; i < angles.size(); ++i) check_angles(angles[i], item("angles", i));
  for (std::size_t i = 0; i < obstacles.size(); ++i) {
    check_shape(obstacles[i].shape, item("obstacles", i) + ".shape");
    check_angles({obstacles[i].angle_deg, 0}, item("obstacles", i));
    check_place(obstacles[i].at_mm, item("obstacles", i) + ".at_mm");
  }
}

void check_place(Vec2 at_mm, const std::string& field) {
  if (!(std::abs(at_mm.x) <= kFarthestMm && std::abs(at_mm.y) <= kFarthestMm))
    refuse(field, "must be within 20,000 mm");
}

void check(const Problem& problem) {
  check_rules(problem.rules);
  for (std::size_t i = 0; i < problem.stocks.size(); ++i) {
    check_stock(problem.stocks[i], item("stocks", i));
    for (std::size_t k = 0; k < problem.stocks[i].excludes.size(); ++k)
      check_index(problem.stocks[i].excludes[k], problem.stocks.size(),
                  item(item("stocks", i) + ".excludes", k));
  }
  for (std::size_t i = 0; i < problem.demands.size(); ++i)
    for (std::size_t k = 0; k < problem.demands[i].ways.size(); ++k) {
      const Way& way = problem.demands[i].ways[k];
      const std::string name = item(item("demands", i) + ".ways", k);
      if (way.parts.empty()) refuse(name + ".parts", "must hold at least one part");
      if (way.rank < 0) refuse(name + ".rank", "must be 0 or more");
      for (std::size_t p = 0; p < way.parts.size(); ++p)
        check_part(way.parts[p], problem.stocks.size(), item(name + ".parts", p));
    }
  for (std::size_t i = 0; i < problem.fixed.size(); ++i)
    check_fixed(problem, problem.fixed[i], item("fixed", i));
}

}  // namespace haftwright::nesting
