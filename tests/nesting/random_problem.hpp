// Random stocks, shapes and problems.
#pragma once

#include <cmath>

#include "haftwright/nesting/plan.hpp"
#include "support/random.hpp"

namespace haftwright::test {

inline nesting::Polygon rectangle(double length, double width) {
  return {{0, 0}, {length, 0}, {length, width}, {0, width}};
}

/// A rectangle whose ends may be slanted, as joint lines make them; at times with corners cut off.
inline nesting::Polygon random_shape(Random& random, double most) {
  const double length = random.between(10, most), width = random.between(8, most / 2);
  const double a = random.chance(0.5) ? random.between(-width, width) / 2 : 0;
  const double b = random.chance(0.5) ? random.between(-width, width) / 2 : 0;
  nesting::Polygon shape{{0, 0}, {length, 0}, {length + a, width}, {b, width}};
  if (random.chance(0.2)) shape.insert(shape.begin() + 2, {length + a / 2 + 3, width / 2});
  if (length + a < b + 4) return rectangle(length, width);
  if (random.chance(0.3))
    for (Vec2& p : shape) p -= Vec2{length / 2, width / 2};
  return shape;
}

/// Convex or not: a ring of corners about a middle, or a rectangle, or an L.
inline nesting::Polygon random_outline(Random& random, double most) {
  const double length = random.between(most / 3, most), width = random.between(most / 5, most / 2);
  if (random.chance(0.4)) return rectangle(length, width);
  if (random.chance(0.3)) {
    const double x = length * random.between(0.3, 0.7), y = width * random.between(0.3, 0.7);
    return {{0, 0}, {length, 0}, {length, y}, {x, y}, {x, width}, {0, width}};
  }
  nesting::Polygon outline;
  const std::size_t corners = random.count(5, 10);
  for (std::size_t i = 0; i < corners; ++i) {
    const double angle =
        6.283185307179586 * (static_cast<double>(i) + random.between(0, 0.7)) / static_cast<double>(corners);
    const double reach = random.between(0.7, 1);
    outline.push_back({length / 2 * reach * std::cos(angle), width / 2 * reach * std::sin(angle)});
  }
  return outline;
}

inline nesting::Stock random_stock(Random& random, double most) {
  nesting::Stock stock{.outline = random_outline(random, most)};
  if (random.chance(0.4)) stock.trim_mm = random.between(0, 4);
  const std::size_t keep_outs = random.chance(0.5) ? random.count(1, 2) : 0;
  for (std::size_t k = 0; k < keep_outs; ++k) {
    nesting::Polygon knot;
    const Vec2 middle = stock.outline[0] * random.between(0, 1) + stock.outline[2] * random.between(0, 0.6);
    for (int i = 0; i < 6; ++i)
      knot.push_back(middle + random.between(2, 6) *
                                  Vec2{std::cos(i * 1.0471975511965976), std::sin(i * 1.0471975511965976)});
    stock.keep_outs.push_back(knot);
  }
  return stock;
}

inline nesting::Part random_part(Random& random, std::size_t stocks, double most) {
  nesting::Part part{random_shape(random, most), {}};
  for (std::size_t s = 0; s < stocks; ++s)
    if (random.chance(0.8)) {
      nesting::Candidate candidate{s,
                                   {{random.chance(0.5) ? 0 : random.between(-180, 180),
                                     random.chance(0.4) ? 0 : random.between(0, 15)}},
                                   0};
      if (random.chance(0.3))
        candidate.angles.push_back({candidate.angles[0].middle_deg + 180, candidate.angles[0].play_deg});
      if (random.chance(0.3)) candidate.penalty = random.between(0, 3);
      if (random.chance(0.3)) candidate.penalty_per_deg = random.between(0, 0.5);
      part.candidates.push_back(candidate);
    }
  return part;
}

inline nesting::Problem random_problem(Random& random) {
  nesting::Problem problem;
  const std::size_t stocks = random.count(1, 6), demands = random.count(1, 5);
  for (std::size_t s = 0; s < stocks; ++s) {
    problem.stocks.push_back(random_stock(random, 160));
    if (s > 0 && random.chance(0.2)) {
      problem.stocks[s] = problem.stocks[s - 1];
      problem.stocks[s].alike = problem.stocks[s - 1].alike = s;
      problem.stocks[s].excludes.clear();
    }
    if (s > 0 && random.chance(0.15)) problem.stocks[s].excludes.push_back(random.index(s));
  }
  for (std::size_t d = 0; d < demands; ++d) {
    nesting::Demand demand;
    const std::size_t ways = random.count(1, 2);
    for (std::size_t w = 0; w < ways; ++w) {
      nesting::Way way{.on_one_stock = random.chance(0.4), .rank = static_cast<int>(w)};
      const std::size_t parts = random.chance(0.7) ? 1 : 2;
      for (std::size_t p = 0; p < parts; ++p) way.parts.push_back(random_part(random, stocks, 70));
      if (parts == 2 && random.chance(0.5)) way.parts[1] = way.parts[0];
      demand.ways.push_back(way);
    }
    problem.demands.push_back(demand);
    if (d > 0 && random.chance(0.25)) problem.demands[d] = problem.demands[d - 1];
  }
  problem.rules = {
      random.chance(0.2) ? 0 : random.between(0.5, 3), random.between(0, 2), 25, 15, random.chance(0.8), {}};
  if (random.chance(0.3))
    problem.rules.order = {nesting::Preference::useful_leftover, nesting::Preference::fewest_cuts};
  return problem;
}

}  // namespace haftwright::test
