// The epoxy estimate against closed forms, and what must hold for every design.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "haftwright/design/starters.hpp"
#include "haftwright/estimates/epoxy.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

TEST_CASE("a ratio by volume becomes one by weight through the densities") {
  // General data of two-part systems: one stated both as 2 : 1 by volume and as 100 : 47 by weight has
  // hardener of 0.94 times the resin's density.
  Adhesive adhesive;
  adhesive.resin_parts = 2;
  adhesive.hardener_parts = 1;
  adhesive.mix_by = MixBy::volume;
  adhesive.resin_density_g_ml = 1.15;
  adhesive.hardener_density_g_ml = 1.15 * 0.94;
  CHECK(hardener_per_resin_by_weight(adhesive) == Approx(0.47).epsilon(1e-12));
  adhesive.mix_by = MixBy::weight;
  CHECK(hardener_per_resin_by_weight(adhesive) == Approx(0.5).epsilon(1e-12));
}

TEST_CASE("two faces and one pin by hand") {
  // Two bare faces of 110 x 28 mm at 0.15 mm: 0.924 ml. A 6.0 mm pin in 6.1 mm holes: pi/4 x 1.21 mm2 of
  // ring.
  Design design = starter_design({{{0, -14}, 0}, {{110, -14}, 0}, {{110, 14}, 0}, {{0, 14}, 0}}, 4,
                                 LengthUnit::millimetre);
  design.left.liners.clear();
  design.left.joints.clear();
  design.left.pieces.resize(1);
  design.left.finish = {{{0, 10}}, std::nullopt, 0, 0};
  design.pins.clear();
  EpoxyEstimate estimate = estimate_epoxy(design, lay_out(design));
  CHECK(estimate.net_ml == Approx(0.924).epsilon(1e-9));
  Pin pin;
  pin.name = "a";
  pin.at_mm = {50, 0};
  pin.stock.nominal_mm = 6;
  pin.scale_hole.diameter_mm = pin.tang_hole.diameter_mm = 6.1;
  design.pins = {pin};
  estimate = estimate_epoxy(design, lay_out(design));
  const double hole = std::numbers::pi / 4 * 6.1 * 6.1;
  const double ring = std::numbers::pi / 4 * (6.1 * 6.1 - 36) * 24;
  CHECK(ring == Approx(22.8).epsilon(0.001));
  CHECK(estimate.net_ml == Approx(0.924 - 2 * hole * 0.15e-3 + ring * 1e-3).epsilon(1e-9));
  // Without a change of volume the mix weighs (1 + r) per 1/a + r/b.
  const double r = estimate.hardener_per_resin_by_weight;
  CHECK(estimate.mixed_density_g_ml == Approx((1 + r) / (1 / 1.15 + r / 1.081)).epsilon(1e-12));
  CHECK(estimate.total_ml == Approx(estimate.net_ml * 1.5 + 1).epsilon(1e-12));
}

TEST_CASE("what is weighed out is whole steps, enough, and in the ratio") {
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const Design design = test::random_design(seed);
    const EpoxyEstimate estimate = estimate_epoxy(design, lay_out(design));
    const double step = design.adhesive.scale_step_g;
    INFO("seed " << seed);
    const auto whole = [&](double grams) { return std::abs(grams / step - std::round(grams / step)) < 1e-6; };
    CHECK(whole(estimate.resin_g));
    CHECK(whole(estimate.hardener_g));
    CHECK(estimate.resin_g + estimate.hardener_g >= estimate.total_g - 1e-9);
    CHECK(estimate.resin_g + estimate.hardener_g >= design.adhesive.least_batch_g - 1e-6);
    CHECK(estimate.hardener_g >= step * (1 - 1e-9));
    CHECK(estimate.resin_g + estimate.hardener_g <=
          std::max(estimate.total_g, design.adhesive.least_batch_g) * 1.1 + step);
    double sum = 0;
    for (const EpoxyEstimate::Line& line : estimate.lines) sum += line.volume_ml;
    CHECK(sum == Approx(estimate.net_ml).epsilon(1e-9));
  }
}

TEST_CASE("a small job is ruled by the least batch, and the scale's step by the ratio") {
  Design design = starter_design({{{0, -14}, 0}, {{110, -14}, 0}, {{110, 14}, 0}, {{0, 14}, 0}}, 4,
                                 LengthUnit::millimetre);
  Adhesive& adhesive = design.adhesive;
  adhesive.mix_by = MixBy::weight;
  adhesive.resin_parts = 100;
  adhesive.hardener_parts = 47;
  adhesive.least_batch_g = 10;
  adhesive.scale_step_g = 0.1;
  const Handle handle = lay_out(design);
  EpoxyEstimate estimate = estimate_epoxy(design, handle);
  // 100 g at 1.15 and 47 g at 1.081 g/ml: 147 g in 130.43 ml.
  CHECK(estimate.mixed_density_g_ml == Approx(1.127).margin(5e-4));
  CHECK(estimate.least_batch_rules);
  // Of all pairs of tenths that add up to 10 to 11 g, 6.8 and 3.2 come nearest to 100 : 47 (brute force).
  CHECK(estimate.resin_g == Approx(6.8).epsilon(1e-12));
  CHECK(estimate.hardener_g == Approx(3.2).epsilon(1e-12));
  CHECK(estimate.ratio_error_share == Approx(3.2 / 6.8 / 0.47 - 1).epsilon(1e-9));
  CHECK(estimate.resin_ml == Approx(6.8 / 1.15).epsilon(1e-12));
  CHECK(estimate.hardener_ml == Approx(3.2 / 1.081).epsilon(1e-12));
  // In whole grams 7 and 3 (0.429) and 7 and 4 (0.571) are what lies nearest.
  adhesive.scale_step_g = 1;
  estimate = estimate_epoxy(design, handle);
  CHECK(estimate.resin_g == 7);
  CHECK(estimate.hardener_g == 3);
  // A job larger than the least batch rules itself.
  adhesive.least_batch_g = 0.5;
  CHECK_FALSE(estimate_epoxy(design, handle).least_batch_rules);
}
