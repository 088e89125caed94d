// Batches of whole scale steps, against every batch there is.
#include "haftwright/estimates/mixing.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/nearly.hpp"
#include "support/random.hpp"

using namespace haftwright;

namespace {

/// The least error among all pairs of whole steps whose sum lies in the allowed range, and the smallest sum
/// that has it. Looks at every pair, knowing nothing of where the best one lies.
struct BruteForce {
  double error = 1e300;
  double steps = 0;
};
BruteForce every_pair(const Mixing& mixing) {
  const double least = std::max(2.0, std::ceil(mixing.needed_g / mixing.scale_step_g - 1e-7));
  const double most =
      std::max(least, std::floor(mixing.needed_g * (1 + mixing.extra_share) / mixing.scale_step_g + 1e-7));
  BruteForce best;
  for (double steps = least; steps <= most; ++steps)
    for (double resin = 1; resin < steps; ++resin) {
      const double error = std::abs((steps - resin) / resin / mixing.hardener_per_resin - 1);
      if (error < best.error - 1e-12) best = {error, steps};
    }
  return best;
}

}  // namespace

TEST_CASE("no pair of whole scale steps keeps the ratio better than the batch chosen") {
  constexpr double kSteps[] = {0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5};
  test::Random random(20);
  for (int round = 0; round < 10'000; ++round) {
    Mixing mixing;
    mixing.scale_step_g = random.pick<double>(kSteps);
    mixing.needed_g = mixing.scale_step_g * random.between(0.3, 150);
    mixing.hardener_per_resin = std::exp(random.between(std::log(0.05), std::log(2)));
    mixing.extra_share = random.chance(0.1) ? 0 : random.between(0, 0.3);
    const Batch batch = best_batch(mixing);
    const BruteForce best = every_pair(mixing);
    INFO("round " << round << ": " << batch.resin_g << " and " << batch.hardener_g << " of "
                  << mixing.needed_g << " at " << mixing.scale_step_g);
    REQUIRE(batch.hardener_g >= mixing.scale_step_g * (1 - 1e-9));
    REQUIRE(batch.resin_g >= mixing.scale_step_g * (1 - 1e-9));
    REQUIRE(std::abs(batch.ratio_error_share) <= best.error + 1e-11);
    REQUIRE((batch.resin_g + batch.hardener_g) / mixing.scale_step_g == Approx(best.steps).epsilon(1e-9));
    REQUIRE(batch.ratio_error_share ==
            Approx(batch.hardener_g / batch.resin_g / mixing.hardener_per_resin - 1).margin(1e-9));
  }
}

TEST_CASE("of equally good batches the smaller is taken, then the one with more resin") {
  // 1 : 1 meets the ratio at every even sum.
  Batch batch = best_batch({.needed_g = 5.9, .hardener_per_resin = 1, .scale_step_g = 1, .extra_share = 1});
  CHECK(batch.resin_g == 3);
  CHECK(batch.hardener_g == 3);
  // 2 + 1 and 1 + 2 miss 1.25 by 0.6 either way, one short of hardener and one over it.
  batch = best_batch({.needed_g = 3, .hardener_per_resin = 1.25, .scale_step_g = 1, .extra_share = 0});
  CHECK(batch.resin_g == 2);
  CHECK(batch.hardener_g == 1);
  CHECK(batch.ratio_error_share == test::nearly(-0.6));
}

TEST_CASE("a coarse scale never leaves out a part, and what would be better is told") {
  const Mixing coarse{.needed_g = 5, .hardener_per_resin = 0.47, .scale_step_g = 5, .extra_share = 0.1};
  const Batch batch = best_batch(coarse);
  CHECK(batch.resin_g == 5);
  CHECK(batch.hardener_g == 5);
  // 100 : 30 on whole grams: 4 + 1 g is 16.7 % short; 10 + 3 g is exact, steps of 0.2 g give 4 + 1.2 g.
  const Mixing grams{.needed_g = 5, .hardener_per_resin = 0.3, .scale_step_g = 1, .extra_share = 0.1};
  CHECK(best_batch(grams).ratio_error_share == test::nearly(1 / 4.0 / 0.3 - 1));
  const auto larger = batch_within(grams, 0.02);
  REQUIRE(larger);
  CHECK(larger->resin_g == 10);
  CHECK(larger->hardener_g == 3);
  REQUIRE(scale_step_within(grams, 0.02));
  CHECK(*scale_step_within(grams, 0.02) == test::nearly(0.2));
  // Nothing is exact for an irrational ratio, and no usual scale is finer than a milligram.
  const Mixing never{.needed_g = 5, .hardener_per_resin = std::sqrt(0.5), .scale_step_g = 0.001};
  CHECK_FALSE(batch_within(never, 0));
  CHECK_FALSE(scale_step_within(never, 0));
}

TEST_CASE("what would be better is better") {
  test::Random random(21);
  for (int round = 0; round < 2'000; ++round) {
    Mixing mixing;
    mixing.scale_step_g = random.between(0.05, 5);
    mixing.needed_g = random.between(1, 50);
    mixing.hardener_per_resin = std::exp(random.between(std::log(0.05), std::log(2)));
    mixing.extra_share = 0.1;
    INFO("round " << round);
    const auto larger = batch_within(mixing, 0.02);
    REQUIRE(larger);
    REQUIRE(std::abs(larger->hardener_g / larger->resin_g / mixing.hardener_per_resin - 1) <= 0.02 + 1e-9);
    REQUIRE(larger->resin_g + larger->hardener_g >= mixing.needed_g - 1e-9);
    if (const auto step = scale_step_within(mixing, 0.02)) {
      REQUIRE(*step < mixing.scale_step_g);
      mixing.scale_step_g = *step;
      REQUIRE(std::abs(best_batch(mixing).ratio_error_share) <= 0.02);
    }
  }
}

TEST_CASE("weights are written with the decimals that the scale shows") {
  CHECK(decimals_of_step(5) == 0);
  CHECK(decimals_of_step(1) == 0);
  CHECK(decimals_of_step(0.5) == 1);
  CHECK(decimals_of_step(0.1) == 1);
  CHECK(decimals_of_step(0.25) == 2);
  CHECK(decimals_of_step(0.02) == 2);
  CHECK(decimals_of_step(0.001) == 3);
}
