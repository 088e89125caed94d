// Samples of linear stacks against closed forms and published examples, and what must hold for any stack.
#include "haftwright/tolerance/sampling.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "sample_engine.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"
#include "tolerance/random_stack.hpp"

using namespace haftwright;
using namespace haftwright::tolerance;
using namespace haftwright::test;

namespace {

constexpr double normal_deviation = 0.5;  // of a limit
const double even_deviation = 1 / std::sqrt(3.0);

/// One measure, each sensitivity with a variable of its own.
ToleranceStack stack_with(double nominal, std::vector<double> limits, DistributionShape shape) {
  ToleranceStack stack;
  Measure measure{.nominal = nominal, .visible = 1e3};
  for (std::size_t i = 0; i < limits.size(); ++i) {
    stack.contributors.push_back({"contributor", "a contributor"});
    stack.variables.push_back({shape, i});
    measure.sensitivities.push_back({i, limits[i]});
  }
  stack.measures.push_back(measure);
  return stack;
}

Distribution sampled(const ToleranceStack& stack, std::uint64_t samples, std::uint64_t seed = 1) {
  return sample(stack, {.samples = samples, .seed = seed}).measures.at(0);
}

/// Five standard errors of a mean and of a standard deviation of n values; `kurtosis` is 3 for a normal
/// value.
double mean_band(double deviation, double n) {
  return 5 * deviation / std::sqrt(n);
}
double deviation_band(double deviation, double kurtosis, double n) {
  return 5 * deviation * std::sqrt((kurtosis - 1) / (4 * n));
}
/// Five standard errors of the quantile at `share`, where the density is `density`.
double quantile_band(double share, double density, double n) {
  return 5 * std::sqrt(share * (1 - share) / n) / density;
}
double normal_density(double z) {
  return std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
}

}  // namespace

TEST_CASE("a sum of normal or even variables has the mean and deviation of the closed form") {
  constexpr double n = 1e6;
  const std::vector<double> limits{0.3, -0.1, 0.05, 0.2};
  double squares = 0, fourths = 0;
  for (const double limit : limits) {
    squares += limit * limit;
    fourths += limit * limit * limit * limit;
  }
  SECTION("normal") {
    const Distribution d = sampled(stack_with(0.7, limits, DistributionShape::normal), 1'000'000);
    const double deviation = normal_deviation * std::sqrt(squares);
    CHECK(d.mean == Approx(0.7).margin(mean_band(deviation, n)));
    CHECK(d.deviation == Approx(deviation).margin(deviation_band(deviation, 3, n)));
    CHECK(
        d.low_95 ==
        Approx(0.7 - 1.959964 * deviation).margin(quantile_band(0.025, normal_density(1.96) / deviation, n)));
    CHECK(
        d.high_95 ==
        Approx(0.7 + 1.959964 * deviation).margin(quantile_band(0.025, normal_density(1.96) / deviation, n)));
  }
  SECTION("even") {
    const Distribution d = sampled(stack_with(0.7, limits, DistributionShape::rectangular), 1'000'000);
    const double deviation = even_deviation * std::sqrt(squares);
    // Each adds -2/15 limit^4 to the fourth cumulant.
    const double kurtosis = 3 - 2.0 / 15 * fourths / std::pow(deviation, 4);
    CHECK(d.mean == Approx(0.7).margin(mean_band(deviation, n)));
    CHECK(d.deviation == Approx(deviation).margin(deviation_band(deviation, kurtosis, n)));
  }
}

TEST_CASE("one even variable has straight quantiles") {
  const Distribution d = sampled(stack_with(0.25, {1.0}, DistributionShape::rectangular), 1'000'000);
  CHECK(d.low_95 == Approx(0.25 - 0.95).margin(quantile_band(0.025, 0.5, 1e6)));
  CHECK(d.high_95 == Approx(0.25 + 0.95).margin(quantile_band(0.025, 0.5, 1e6)));
  // 0.25 + x runs evenly from -0.75 to 1.25: 0.95 of that length lies below 1.15, and nothing below -1.15.
  CHECK(d.size_95 == Approx(1.15).margin(quantile_band(0.05, 0.5, 1e6)));
}

TEST_CASE("four equal variables: the example of JCGM 101:2008, 9.2") {
  // Four inputs of standard deviation 1: u(Y) = 2.0 and the 95 % interval +-3.92 when all are normal
  // (1.959964 x 2), +-3.88 when all are even: 2 root 3 (2 - (3/5)^(1/4)), computed from the sum's density.
  constexpr double n = 1e6;
  const Distribution normal = sampled(stack_with(0, {2, 2, 2, 2}, DistributionShape::normal), 1'000'000);
  CHECK(normal.deviation == Approx(2.0).margin(deviation_band(2, 3, n)));
  const double normal_band = quantile_band(0.025, normal_density(1.959964) / 2, n);
  CHECK(normal.low_95 == Approx(-3.9199).margin(normal_band));
  CHECK(normal.high_95 == Approx(3.9199).margin(normal_band));

  const double root_3 = std::sqrt(3.0);
  const Distribution even =
      sampled(stack_with(0, {root_3, root_3, root_3, root_3}, DistributionShape::rectangular), 1'000'000);
  const double end = 2 * root_3 * (2 - std::pow(0.6, 0.25));
  CHECK(end == Approx(3.88).margin(0.005));
  // Near its end 4 root 3 the sum's density is (4 root 3 - y)^3 / (6 (2 root 3)^4).
  const double density = std::pow(4 * root_3 - end, 3) / (6 * std::pow(2 * root_3, 4));
  CHECK(even.deviation == Approx(2.0).margin(deviation_band(2, 2.7, n)));
  CHECK(even.low_95 == Approx(-end).margin(quantile_band(0.025, density, n)));
  CHECK(even.high_95 == Approx(end).margin(quantile_band(0.025, density, n)));
  // The two differ by more than the bands, so that one can't pass for the other.
  CHECK(3.9199 - end > normal_band);
}

TEST_CASE("published stacks: worst case, root of squares and samples") {
  SECTION("bolt and sleeves: Shigley's Mechanical Engineering Design, 9th ed. (2011), example 1-3") {
    // w = a - b - c - d = 0.005 +- 0.010 in at worst (read); root of squares 0.006 (computed).
    const ToleranceStack stack =
        stack_with(0.005, {0.003, -0.001, -0.005, -0.001}, DistributionShape::normal);
    CHECK(limits_of(stack, 0).worst == test::nearly(0.015));
    CHECK(limits_of(stack, 0).rss == test::nearly(0.005 + 0.006));
    const Distribution d = sampled(stack, 1'000'000);
    CHECK(d.mean == Approx(0.005).margin(mean_band(0.003, 1e6)));
    CHECK(2 * d.deviation == Approx(0.006).margin(2 * deviation_band(0.003, 3, 1e6)));
  }
  SECTION("ten parts of +-0.1 mm: worst +-1.0, root of squares +-0.316 (read)") {
    const ToleranceStack stack = stack_with(0, std::vector<double>(10, 0.1), DistributionShape::normal);
    CHECK(limits_of(stack, 0).worst == test::nearly(1.0));
    CHECK(limits_of(stack, 0).rss == Approx(0.316).margin(0.0005));
    const double rss = std::sqrt(0.1);
    CHECK(2 * sampled(stack, 1'000'000).deviation == Approx(rss).margin(deviation_band(rss, 3, 1e6)));
  }
}

TEST_CASE("a seed gives the same bits for any number of threads and any kernel") {
  for (const std::uint64_t samples : {1u, 63u, 64u, 65u, 4095u, 4096u, 4097u, 10'001u, 30'000u}) {
    const ToleranceStack stack = random_stack(samples);
    const Samples one = sample_with(plain_kernel, stack, {.samples = samples, .seed = 7, .threads = 1});
    for (const unsigned threads : {0u, 2u, 3u})
      CHECK(same_bits(one, sample(stack, {.samples = samples, .seed = 7, .threads = threads})));
    if (const SampleKernel* kernel = avx2_kernel())
      CHECK(same_bits(one, sample_with(*kernel, stack, {.samples = samples, .seed = 7, .threads = 2})));
    CHECK_FALSE(same_bits(one, sample(stack, {.samples = samples, .seed = 8})));
    CHECK_FALSE(same_bits(one, sample(stack, {.samples = samples, .seed = 7 + (std::uint64_t{1} << 32)})));
    std::uint64_t binned = 0;
    for (const std::uint64_t bin : one.measures.at(0).bins) binned += bin;
    CHECK(binned == samples);
  }
}

TEST_CASE("the mean's error falls as one over the root of the samples") {
  // Over 64 seeds the logarithm of the root mean square error has a standard error of root(1/128); a line
  // through five counts, each four times the one before, then has a slope with a standard error of 0.0202.
  const ToleranceStack stack = stack_with(0, {0.2, 0.1}, DistributionShape::normal);
  double slope = 0;
  for (int i = 0; i < 5; ++i) {
    const std::uint64_t samples = std::uint64_t{256} << (2 * i);
    double squares = 0;
    for (std::uint64_t seed = 1; seed <= 64; ++seed) {
      const double mean = sampled(stack, samples, 100 * seed + static_cast<std::uint64_t>(i)).mean;
      squares += mean * mean;
    }
    slope += (i - 2) * 0.5 * std::log(squares / 64) / (10 * std::log(4.0));
  }
  CHECK(slope == Approx(-0.5).margin(4 * 0.0202));
}

TEST_CASE("Wilson's interval solves the equation that defines it") {
  // The ends are the shares p for which the count lies z standard deviations of p's own from n p.
  constexpr double z = 1.959963984540054;
  for (const std::uint64_t samples : {10u, 263u, 100'000u}) {
    for (const double part : {0.1, 0.3, 0.8}) {
      const auto hits = static_cast<std::uint64_t>(part * static_cast<double>(samples));
      const double n = static_cast<double>(samples);
      const Chance chance = chance_of(hits, samples, 0.95);
      CHECK(chance.share == test::nearly(static_cast<double>(hits) / n));
      for (const double end : {chance.low, chance.high})
        CHECK(std::abs(chance.share - end) == Approx(z * std::sqrt(end * (1 - end) / n)).epsilon(1e-9));
      CHECK(chance.low < chance.share);
      CHECK(chance.high > chance.share);
    }
  }
  // None of n: from 0 to z^2 / (n + z^2); all of n the other way about.
  CHECK(chance_of(0, 20, 0.95).low == 0);
  CHECK(chance_of(0, 20, 0.95).high == test::nearly(z * z / (20 + z * z)));
  CHECK(chance_of(20, 20, 0.95).high == 1);
  CHECK(chance_of(20, 20, 0.95).low == test::nearly(20 / (20 + z * z)));
  CHECK(chance_of(5, 20, 0.99).high > chance_of(5, 20, 0.9).high);
  CHECK_THROWS_AS(chance_of(0, 0, 0.95), std::invalid_argument);
  CHECK_THROWS_AS(chance_of(3, 2, 0.95), std::invalid_argument);
  CHECK_THROWS_AS(chance_of(1, 2, 1.0), std::invalid_argument);
}

TEST_CASE("the intervals hold the true chance as often as they say") {
  constexpr std::uint64_t samples = 1000;
  constexpr int seeds = 600;
  ToleranceStack stack = stack_with(0, {0.2}, DistributionShape::normal);
  stack.measures[0].visible = 0.15;
  const double truth = std::erfc(0.15 / 0.1 / std::numbers::sqrt2);
  // How often Wilson's interval holds the truth at this n, exactly, from the binomial distribution.
  double exact = 0;
  for (std::uint64_t hits = 0; hits <= samples; ++hits) {
    const Chance chance = chance_of(hits, samples, 0.95);
    const double h = static_cast<double>(hits);
    if (chance.low <= truth && truth <= chance.high)
      exact += std::exp(std::lgamma(1001) - std::lgamma(h + 1) - std::lgamma(1001 - h) + h * std::log(truth) +
                        (1000 - h) * std::log1p(-truth));
  }
  CHECK(exact == Approx(0.95).margin(0.01));
  int held = 0;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    const Chance shows = sampled(stack, samples, seed).shows;
    held += shows.low <= truth && truth <= shows.high ? 1 : 0;
  }
  CHECK(held == Approx(exact * seeds).margin(4 * std::sqrt(exact * (1 - exact) * seeds)));
}

TEST_CASE("no errors: every handle has the nominal steps exactly") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    ToleranceStack stack = random_stack(seed);
    for (std::size_t contributor = 0; contributor < stack.contributors.size(); ++contributor)
      stack = without_contributor(stack, contributor);
    for (PatternClearance& clearance : stack.clearances)
      for (PinBound& pin : clearance.pins) pin.radius_mm = 0;
    const Samples samples = sample(stack, {.samples = 1000, .seed = seed});
    double greatest = 0;
    bool any = false;
    for (std::size_t m = 0; m < stack.measures.size(); ++m) {
      const Measure& measure = stack.measures[m];
      const Distribution& d = samples.measures[m];
      const bool shows = std::abs(measure.nominal) > measure.visible;
      if (measure.kind == Measure::Kind::step_mm) greatest = std::max(greatest, std::abs(measure.nominal));
      any = any || shows;
      CHECK(d.mean == measure.nominal);
      CHECK(d.deviation == 0);
      CHECK(d.low_95 == measure.nominal);
      CHECK(d.high_95 == measure.nominal);
      CHECK(d.size_95 == std::abs(measure.nominal));
      CHECK(d.shows.share == (shows ? 1 : 0));
    }
    CHECK(samples.any_size_95 == greatest);
    CHECK(samples.any_shows.share == (any ? 1 : 0));
    CHECK(samples.no_fit.share == 0);
  }
}

TEST_CASE("exactly at the visible limit does not show") {
  for (const double nominal : {0.1, -0.1, 0.3, -0.7}) {
    ToleranceStack stack = stack_with(nominal, {}, DistributionShape::normal);
    stack.measures[0].visible = std::abs(nominal);
    CHECK(sampled(stack, 100).shows.share == 0);
    stack.measures[0].visible = std::nextafter(std::abs(nominal), 0.0);
    CHECK(sampled(stack, 100).shows.share == 1);
  }
}

TEST_CASE("what both sides share cancels, to the bit") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    const ToleranceStack stack = random_stack(seed);
    ToleranceStack shared = stack;
    shared.variables.push_back({DistributionShape::normal, 0});
    shared.variables.push_back({DistributionShape::rectangular, 0});
    Random random(seed);
    for (std::size_t v = stack.variables.size(); v < shared.variables.size(); ++v) {
      const double size = random.between(0.01, 1);
      for (Measure& measure : shared.measures) {
        measure.sensitivities.insert(measure.sensitivities.begin(), {v, size});  // left
        measure.sensitivities.push_back({v, -size});                             // right
      }
      for (PatternClearance& clearance : shared.clearances)
        for (PinBound& pin : clearance.pins) {
          pin.offset_x.insert(pin.offset_x.begin(), {v, size});
          pin.offset_x.push_back({v, -size});
        }
    }
    CHECK(same_bits(sample(stack, {.samples = 500, .seed = seed}),
                    sample(shared, {.samples = 500, .seed = seed})));
    // Were it not shared, it would show.
    shared.measures[0].sensitivities.pop_back();
    CHECK_FALSE(same_bits(sample(stack, {.samples = 500, .seed = seed}),
                          sample(shared, {.samples = 500, .seed = seed})));
  }
}

TEST_CASE("the greatest step of several, and angles do not count as steps") {
  ToleranceStack stack = stack_with(0, {1.0}, DistributionShape::rectangular);
  stack.variables.push_back({DistributionShape::rectangular, 0});
  stack.measures.push_back({.nominal = 0, .visible = 0.5, .sensitivities = {{1, 1.0}}});
  stack.measures.push_back(
      {.kind = Measure::Kind::angle_deg, .nominal = 90, .visible = 1e3, .sensitivities = {{1, 40.0}}});
  const Samples samples = sample(stack, {.samples = 1'000'000});
  // The greater of two even sizes is below t with probability t^2; its density there is 2 t.
  const double t = std::sqrt(0.95);
  CHECK(samples.any_size_95 == Approx(t).margin(quantile_band(0.05, 2 * t, 1e6)));
  CHECK(samples.any_shows.share == Approx(0.5).margin(5 * std::sqrt(0.25 / 1e6)));
  CHECK(samples.any_shows.share == samples.measures[1].shows.share);
}

TEST_CASE("the shares of the variance of a linear stack are exact") {
  ToleranceStack stack = stack_with(0.1, {0.2, 0.1, 0.3}, DistributionShape::normal);
  stack.variables[2].shape = DistributionShape::rectangular;
  stack.variables.push_back({DistributionShape::normal, 1});
  stack.measures[0].sensitivities.push_back({3, 0.4});
  const double a = 0.04 / 4, b = (0.01 + 0.16) / 4, c = 0.09 / 3, sum = a + b + c;
  const std::vector<VarianceShare> shares = variance_shares(stack, 0, {.samples = 100});
  REQUIRE(shares.size() == 4);
  CHECK(shares[0].alone == test::nearly(a / sum));
  CHECK(shares[1].alone == test::nearly(b / sum));
  CHECK(shares[2].alone == test::nearly(c / sum));
  CHECK(shares[3].alone == 0);
  for (const VarianceShare& share : shares) CHECK(share.alone == share.total);

  const ToleranceStack without = without_contributor(stack, 1);
  CHECK(without.variables.size() == stack.variables.size());
  CHECK(variance_shares(without, 0, {.samples = 100})[1].total == 0);
  CHECK(variance_shares(without, 0, {.samples = 100})[0].alone == test::nearly(a / (a + c)));
}

TEST_CASE("a stack that does not hold together is refused") {
  ToleranceStack stack = random_stack(3);
  stack.measures[0].sensitivities.push_back({stack.variables.size(), 0.1});
  CHECK_THROWS_AS(sample(stack, {}), std::invalid_argument);
  stack = random_stack(3);
  stack.clearances.at(0).effects.pop_back();
  CHECK_THROWS_AS(sample(stack, {}), std::invalid_argument);
  stack = random_stack(3);
  stack.measures[0].nominal = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(sample(stack, {}), std::invalid_argument);
  CHECK_THROWS_AS(sample(random_stack(3), {.samples = 0}), std::invalid_argument);
}
