// Speed of plans over a bin of offcuts and of single places, and what plain rectangles come to beside the
// bins that their area alone would fill.
#include <benchmark/benchmark.h>

#include <cmath>

#include "haftwright/nesting/places.hpp"
#include "haftwright/nesting/plan.hpp"
#include "support/random.hpp"

namespace {

using namespace haftwright;
using namespace haftwright::nesting;

Polygon rectangle(double length, double width) {
  return {{0, 0}, {length, 0}, {length, width}, {0, width}};
}

/// As they lie in a bin: sawn rectangles, some with a slanted end or a waney edge, a knot in one of three.
Stock offcut(test::Random& random) {
  const double length = random.between(60, 260), width = random.between(28, 90);
  Stock stock{.outline = rectangle(length, width), .trim_mm = random.chance(0.5) ? 1.0 : 0.0};
  if (random.chance(0.4)) stock.outline[1].x -= random.between(3, 20);
  if (random.chance(0.3))
    stock.outline = {{0, 0},
                     {length, 0},
                     {length, width * 0.9},
                     {length * 0.6, width},
                     {length * 0.3, width * 0.92},
                     {0, width * 0.97}};
  if (random.chance(0.33)) {
    const Vec2 middle{random.between(0, length), random.between(0, width)};
    Polygon knot;
    for (int i = 0; i < 8; ++i)
      knot.push_back(middle + 5.0 * Vec2{std::cos(i * 0.7853981633974483), std::sin(i * 0.7853981633974483)});
    stock.keep_outs.push_back(knot);
  }
  return stock;
}

/// Three handles: each two front pieces and two rear pieces with a slanted joint; grain may be off by some
/// degrees. A piece may come from the offcuts of its wood, one of five.
Problem handles(std::size_t demands, std::size_t stocks, double play_deg) {
  test::Random random(7);
  Problem problem;
  for (std::size_t s = 0; s < stocks; ++s) problem.stocks.push_back(offcut(random));
  for (std::size_t d = 0; d < demands; ++d) {
    const double length = d % 4 < 2 ? 42 : 84, width = 32 + static_cast<double>(d / 4) * 2;
    Part part{{{0, 0}, {length, 0}, {length + 6, width}, {0, width}}, {}};
    for (std::size_t s = 0; s < stocks; ++s)
      if (s % 5 == d / 2 % 5) part.candidates.push_back({s, {{0, play_deg}, {180, play_deg}}, 0});
    problem.demands.push_back({{Way{{part}, false, 0}}});
  }
  problem.rules = {1.6, 2, 60, 25, true, {}};
  return problem;
}

void plan_handles(benchmark::State& state) {
  const Problem problem =
      handles(12, static_cast<std::size_t>(state.range(0)), static_cast<double>(state.range(1)));
  Plans plans;
  for (auto _ : state) {
    plans = plan(problem, static_cast<std::size_t>(state.range(2)));
    benchmark::DoNotOptimize(plans.plans.data());
  }
  state.counters["unplaced"] = static_cast<double>(plans.plans[0].value.unplaced);
  state.counters["stocks"] = static_cast<double>(plans.plans[0].cuts.size());
  state.counters["proven"] = plans.plans[0].proven_best ? 1 : 0;
}
BENCHMARK(plan_handles)
    ->ArgNames({"stocks", "play", "plans"})
    ->Args({200, 0, 1})
    ->Args({200, 8, 1})
    ->Args({200, 8, 3})
    ->Args({2000, 8, 1})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

void drag_a_shape(benchmark::State& state) {
  test::Random random(3);
  Stock stock = offcut(random);
  stock.outline = {{0, 0}, {220, 0}, {220, 70}, {130, 80}, {60, 74}, {0, 78}};
  const Polygon shape{{0, 0}, {42, 0}, {48, 32}, {0, 32}};
  const std::vector<Obstacle> others{{shape, {20, 4}, 2}, {shape, {90, 6}, 0}, {shape, {140, 8}, -3}};
  const std::vector<Angles> allowed{{0, 8}, {180, 8}};
  const Rules rules{1.6, 2, 60, 25, true, {}};
  for (auto _ : state) {
    const Place hand{{random.between(-20, 220), random.between(-20, 80)}, random.between(-10, 10)};
    benchmark::DoNotOptimize(nearest_place(stock, shape, hand, allowed, rules, others));
  }
}
BENCHMARK(drag_a_shape)->Unit(benchmark::kMicrosecond);

void is_it_legal(benchmark::State& state) {
  test::Random random(3);
  const Stock stock{.outline = {{0, 0}, {220, 0}, {220, 70}, {130, 80}, {60, 74}, {0, 78}}};
  const Polygon shape{{0, 0}, {42, 0}, {48, 32}, {0, 32}};
  const std::vector<Obstacle> others{{shape, {20, 4}, 2}, {shape, {90, 6}, 0}, {shape, {140, 8}, -3}};
  const Rules rules{1.6, 2, 60, 25, true, {}};
  for (auto _ : state) {
    const Place hand{{random.between(-20, 220), random.between(-20, 80)}, random.between(-10, 10)};
    benchmark::DoNotOptimize(legal(stock, shape, hand, rules, others));
  }
}
BENCHMARK(is_it_legal)->Unit(benchmark::kMicrosecond);

/// Rectangles on equal rectangular bins at one angle, for both placers. The pieces' area over that of the
/// bins opened is the yield.
struct Rectangles {
  double bin_length = 220, bin_width = 90, kerf = 2;
  std::vector<Vec2> sizes;
  double bins_of_area() const {
    double area = 0;
    for (const Vec2 size : sizes) area += size.x * size.y;
    return area / (bin_length * bin_width);
  }
};
Rectangles rectangles(std::uint64_t seed) {
  test::Random random(seed);
  Rectangles result;
  for (int i = 0; i < 12; ++i)
    result.sizes.push_back({std::round(random.between(35, 120)), std::round(random.between(22, 48))});
  return result;
}
constexpr std::uint64_t kSeeds = 5;

void plan_rectangles(benchmark::State& state) {
  double least = 0, bins = 0, unplaced = 0, area = 0;
  for (auto _ : state) {
    least = bins = unplaced = area = 0;
    for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
      const Rectangles r = rectangles(seed);
      Problem problem;
      for (int s = 0; s < 12; ++s)
        problem.stocks.push_back({.outline = rectangle(r.bin_length, r.bin_width), .alike = 0});
      for (const Vec2 size : r.sizes) {
        Part part{rectangle(size.x, size.y), {}};
        for (std::size_t s = 0; s < 12; ++s) part.candidates.push_back({s, {{0, 0}}, 0});
        problem.demands.push_back({{Way{{part}, false, 0}}});
      }
      problem.rules = {r.kerf, 0, 0, 0, state.range(0) != 0, {}};
      const Plans plans = plan(problem, 1);
      bins += static_cast<double>(plans.plans[0].cuts.size());
      area += r.bins_of_area();
      least += std::ceil(r.bins_of_area());
      unplaced += static_cast<double>(plans.plans[0].value.unplaced);
    }
  }
  state.counters["yield_percent"] = 100 * area / bins;
  state.counters["bins_by_area"] = least;
  state.counters["bins"] = bins;
  state.counters["unplaced"] = unplaced;
}
BENCHMARK(plan_rectangles)
    ->ArgName("straight_cuts")
    ->Arg(1)
    ->Arg(0)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
