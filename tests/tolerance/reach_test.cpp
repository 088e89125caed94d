// The farthest that a body goes where its holes may be off: against closed forms, and against trying what the
// holes may be off by.
#include "reach.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "haftwright/tolerance/stack.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"

using namespace haftwright;
using namespace haftwright::tolerance;
using haftwright::test::Random;

namespace {

Vec2 random_vector(Random& random, double most) {
  return {random.between(-most, most), random.between(-most, most)};
}

/// Every combination of what each pin may be off by, in steps from -1 to 1.
void each_combination(std::span<const LoosePin> pins, int steps, std::vector<PinClearance>& at,
                      std::size_t pin, std::size_t vector, const auto& visit) {
  if (pin == pins.size()) return visit(at);
  if (vector == pins[pin].off_mm.size()) return each_combination(pins, steps, at, pin + 1, 0, visit);
  const PinClearance before = at[pin];
  for (int i = -steps; i <= steps; ++i) {
    at[pin].offset_mm = before.offset_mm + (static_cast<double>(i) / steps) * pins[pin].off_mm[vector];
    each_combination(pins, steps, at, pin, vector + 1, visit);
  }
  at[pin] = before;
}

/// The greatest of the clearance's own farthest motions.
double farthest_of_combinations(std::span<const LoosePin> pins, const PoseEffect& effect, int steps) {
  std::vector<PinClearance> at;
  for (const LoosePin& pin : pins) at.push_back({.at_mm = pin.at_mm, .radius_mm = pin.radius_mm});
  double best = 0;
  each_combination(pins, steps, at, 0, 0, [&](const std::vector<PinClearance>& combination) {
    best = std::max(best, farthest(combination, effect).value_mm);
  });
  return best;
}

}  // namespace

TEST_CASE("one pin: the disc and what the hole may be off by, along any direction") {
  Random random(3);
  for (int i = 0; i < 200; ++i) {
    LoosePin pin{.at_mm = random_vector(random, 100), .radius_mm = random.between(0, 0.2)};
    const std::size_t count = random.count(0, 4);
    for (std::size_t k = 0; k < count; ++k) pin.off_mm.push_back(random_vector(random, 0.1));
    const PoseEffect effect{.along = random_vector(random, 1), .turn_mm = random.between(-50, 50)};
    double closed_form = pin.radius_mm * glm::length(effect.along);
    for (const Vec2 off : pin.off_mm) closed_form += std::abs(glm::dot(effect.along, off));
    CHECK(farthest_mm(std::span(&pin, 1), effect) == Approx(closed_form).margin(1e-9));
    // The same where another pin on the spot is looser.
    const std::vector<LoosePin> two{pin, {.at_mm = pin.at_mm, .radius_mm = 5}};
    CHECK(farthest_mm(two, effect) == Approx(closed_form).margin(1e-9));
  }
}

TEST_CASE("holes that are not off: as far as the clearance alone") {
  Random random(4);
  for (int i = 0; i < 300; ++i) {
    std::vector<LoosePin> pins;
    std::vector<PinClearance> plain;
    const std::size_t count = random.count(2, 8);
    for (std::size_t k = 0; k < count; ++k) {
      pins.push_back({.at_mm = random_vector(random, 60), .radius_mm = random.between(0.01, 0.3)});
      plain.push_back({.at_mm = pins.back().at_mm, .radius_mm = pins.back().radius_mm});
    }
    const PoseEffect effect{.along = random_vector(random, 1), .turn_mm = random.between(-80, 80)};
    const FarthestPose expected = farthest(plain, effect);
    const double found = farthest_mm(pins, effect);
    CHECK(found >= expected.value_mm - 1e-10);
    CHECK(found <= expected.at_most_mm * (1 + 2e-9) + 1e-9);
  }
}

TEST_CASE("holes that may be off: what the best of all combinations gives, no more") {
  Random random(5);
  const int cases = std::getenv("HAFTWRIGHT_SHORT") ? 4 : 16;
  for (int i = 0; i < cases; ++i) {
    std::vector<LoosePin> pins;
    std::size_t vectors = 0;
    const std::size_t count = random.count(2, 3);
    for (std::size_t k = 0; k < count; ++k) {
      LoosePin& pin = pins.emplace_back();
      pin = {.at_mm = random_vector(random, 60), .radius_mm = random.between(0.02, 0.2)};
      for (std::size_t v = 0; v < (vectors < 3 ? random.count(1, 2) : 0); ++v)
        pin.off_mm.push_back(random_vector(random, 0.1));
      vectors += pin.off_mm.size();
    }
    const PoseEffect effect{.along = random_vector(random, 1), .turn_mm = random.between(-80, 80)};
    const double found = farthest_mm(pins, effect);
    // The best is a concave function of the combination: between the steps it rises by little.
    const double tried = farthest_of_combinations(pins, effect, vectors > 3 ? 3 : 5);
    INFO("case " << i << ", " << vectors << " vectors");
    CHECK(found >= tried - 1e-9);
    CHECK(found <= tried * 1.02 + 1e-9);
  }
}

TEST_CASE(
    "the worst case takes a hole that is off along x and y as it is, not by root 2 in every direction") {
  ToleranceStack stack;
  stack.contributors.push_back({"hole", "a hole"});
  stack.variables.assign(2, {DistributionShape::rectangular, 0});
  stack.measures.assign(3, {.nominal = 0, .visible = 1});
  const double half = std::sqrt(0.5);
  stack.clearances.push_back(
      {.pins = {{.at_mm = {0, 0}, .radius_mm = 0.1, .offset_x = {{0, 0.2}}, .offset_y = {{1, 0.2}}},
                {.at_mm = {0, 0}, .radius_mm = 3}},
       .effects = {{.along = {1, 0}}, {.along = {0, -1}}, {.along = {half, half}}}});
  CHECK(limits_of(stack, 0).clearance == test::nearly(0.3));
  CHECK(limits_of(stack, 1).clearance == test::nearly(0.3));
  CHECK(limits_of(stack, 2).clearance == test::nearly(0.1 + 0.2 * std::sqrt(2)));
  // One error that moves it along x and y at once.
  stack.clearances[0].pins[0].offset_y = {{0, -0.2}};
  CHECK(limits_of(stack, 2).clearance == test::nearly(0.1));
}
