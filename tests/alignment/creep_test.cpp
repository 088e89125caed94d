// Scales that creep to the end of the pins' clearance at glue-up.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <numbers>

#include "sample_engine.hpp"
#include "tolerance/random_stack.hpp"
#include "way_stacks.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

std::uint64_t many() {
  return std::getenv("HAFTWRIGHT_SHORT") ? 20'000 : 200'000;
}

ToleranceStack crept_stack(std::vector<PinBound> pins, std::vector<PoseEffect> effects) {
  ToleranceStack stack;
  stack.contributors.push_back({"hole", "a hole"});
  stack.measures.assign(effects.size(), {.nominal = 0, .visible = 1e3});
  stack.clearances.push_back({.pins = std::move(pins), .effects = std::move(effects)});
  stack.crept = true;
  return stack;
}

PoseEffect motion(Vec2 p, Vec2 along) {
  return {.along = along, .turn_mm = cross(p, along)};
}

double normal(Random& random) {
  return std::sqrt(-2 * std::log(random.between(1e-300, 1))) *
         std::cos(2 * std::numbers::pi * random.between(0, 1));
}

}  // namespace

TEST_CASE("one pin: a crept scale stands at the rim, in every direction alike") {
  constexpr double r = 0.2;
  const Vec2 at{40, 7};
  const Samples samples =
      sample(crept_stack({{.at_mm = at, .radius_mm = r}}, {motion(at, {1, 0}), motion(at, {0.6, 0.8})}),
             {.samples = many(), .seed = 2});
  // On a circle x^2 is r^2/2 on average, with a deviation of r^2/root 8; the rim is reached to 1 in 100.
  const double band = 5 * r / std::sqrt(2.0) / (2 * std::sqrt(2.0) * std::sqrt(static_cast<double>(many())));
  for (const Distribution& measure : samples.measures) {
    CHECK(measure.deviation <= r / std::numbers::sqrt2 + 2 * band);
    CHECK(measure.deviation >= 0.99 * r / std::numbers::sqrt2 - 2 * band);
    CHECK(measure.bins_from >= -r - 0.001);  // a bin is wider than what rounding adds
    CHECK(measure.size_95 > 0.98 * r * std::sin(0.475 * std::numbers::pi));
  }
}

TEST_CASE("a row of pins: a crept scale stands where the push's own farthest pose is") {
  const std::vector<PinBound> pins{{.at_mm = {10, 3}, .radius_mm = 0.1},
                                   {.at_mm = {50, -2}, .radius_mm = 0.06},
                                   {.at_mm = {90, 3}, .radius_mm = 0.15}};
  const std::vector<PoseEffect> effects{motion({30, 5}, {1, 0}), motion({0, 0}, {0, 1}), {.turn_mm = 50}};
  const Samples samples = sample(crept_stack(pins, effects), {.samples = many(), .seed = 2});
  std::vector<PinClearance> plain;
  for (const PinBound& pin : pins) plain.push_back({.at_mm = pin.at_mm, .radius_mm = pin.radius_mm});
  // Pushed along the outermost pins' line, and square to it at either.
  Random random(9);
  const int count = std::getenv("HAFTWRIGHT_SHORT") ? 2000 : 10'000;
  std::vector<double> squares(effects.size());
  for (int i = 0; i < count; ++i) {
    const PoseEffect along = motion({10, 3}, {normal(random), normal(random)});
    const PoseEffect other = motion({90, 3}, {0, normal(random)});
    const Pose pose = farthest(plain, {along.along + other.along, along.turn_mm + other.turn_mm}).pose;
    for (std::size_t m = 0; m < effects.size(); ++m) squares[m] += std::pow(effects[m].of(pose), 2);
  }
  for (std::size_t m = 0; m < effects.size(); ++m) {
    const double expected = std::sqrt(squares[m] / count);
    // Five standard errors; poses at an end have a kurtosis below 3.
    CHECK(samples.measures[m].deviation ==
          Approx(expected).margin(0.01 * expected + 5 * expected * std::sqrt(2.0 / (4 * count))));
  }
}

TEST_CASE("a crept scale stands nowhere beyond the worst case, and the steps are no smaller") {
  Design design = read_project(HAFTWRIGHT_PROJECTS "/shucking_knife.json");
  // Sawn from one block, one normal contributor makes a measure, and 95 of 100 lie at its limit.
  design.drilling.one_block = false;
  const Handle handle = lay_out(design);
  CHECK_FALSE(line_up(design, handle, DrillWay::taped, nullptr).stack.crept);  // even, unless it is said
  const Samples even = sample(line_up(design, handle, DrillWay::taped, nullptr).stack, kFew);
  design.drilling.glue_up = GlueUp::crept;
  const LineUp made = line_up(design, handle, DrillWay::taped, nullptr);
  CHECK(made.stack.crept);
  const Samples crept = sample(made.stack, kFew);
  for (std::size_t m = 0; m < made.measures.size(); ++m) {
    CHECK(crept.measures[m].deviation >= 0.97 * even.measures[m].deviation);
    CHECK(crept.measures[m].size_95 <= limits_of(made.stack, m).worst);
  }
  CHECK(crept.any_size_95 > even.any_size_95);
}

TEST_CASE("crept scales too are the same bits for any number of threads and any kernel") {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    ToleranceStack stack = random_stack(seed);
    stack.crept = true;
    const SampleSettings one{.samples = 9000, .seed = seed, .threads = 1};
    const Samples expected = tolerance::sample_with(tolerance::plain_kernel, stack, one);
    CHECK(same_bits(sample(stack, one), expected));
    CHECK(same_bits(sample(stack, {.samples = 9000, .seed = seed, .threads = 3}), expected));
  }
}
