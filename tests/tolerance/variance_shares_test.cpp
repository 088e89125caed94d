// Shares of a measure's variance: first order and total effect against closed forms.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>

#include "haftwright/tolerance/sampling.hpp"

using namespace haftwright;

namespace {

SampleSettings many() {
  return {.samples = std::getenv("HAFTWRIGHT_SHORT") ? 50'000u : 400'000u, .seed = 11};
}

/// Five standard errors of a share that is a ratio of two sampled variances.
double off() {
  return 5 * 2 * std::sqrt(2.0 / static_cast<double>(many().samples));
}

PinBound plain_pin(Vec2 at, double radius) {
  return {.at_mm = at, .radius_mm = radius};
}

/// A stack of one clearance with one measure.
ToleranceStack clearance_stack(std::vector<PinBound> pins, PoseEffect effect) {
  ToleranceStack stack;
  stack.contributors = {{"hole", "a hole"}};
  stack.measures = {{.nominal = 0, .visible = 1e3}};
  stack.clearances.push_back({.pins = std::move(pins), .effects = {effect}});
  return stack;
}

const PoseEffect kAlong{.along = {1, 0}};

}  // namespace

TEST_CASE("the clearance is all of the variance where nothing else varies") {
  const auto shares =
      variance_shares(clearance_stack({plain_pin({0, 0}, 0.1), plain_pin({50, 0}, 0.1)}, {{0, 1}, 25}), 0,
                      {.samples = 10'000});
  REQUIRE(shares.size() == 2);
  CHECK(shares[0].total == 0);
  CHECK(shares[1].alone == Approx(1).margin(0.05));
  CHECK(shares[1].total == Approx(1).margin(0.05));
}

TEST_CASE("a measure that no clearance moves has linear shares, and the clearance none") {
  ToleranceStack stack = clearance_stack({plain_pin({0, 0}, 0.1), plain_pin({50, 0}, 0.1)}, {});
  stack.variables = {{DistributionShape::normal, 0}};
  stack.measures[0].sensitivities = {{0, 0.1}};
  const auto shares = variance_shares(stack, 0, {.samples = 100});
  CHECK(shares[0].alone == 1);
  CHECK(shares[0].total == 1);
  CHECK(shares[1].total == 0);
}

TEST_CASE("what shifts a hole and what the room leaves add up: shares of a linear stack") {
  // Two pins whose holes are off square to their line: their middle moves by what the clearance leaves, even
  // in a square turned by half a right angle with sides of 0.1 mm (a variance of 4/15 of 0.01 mm^2, halved),
  // and by half of what both holes are off, all independent.
  ToleranceStack stack = clearance_stack({plain_pin({0, 0}, 0.1), plain_pin({50, 0}, 0.1)}, {{0, 1}, 25});
  stack.contributors.push_back({"joint", "a joint"});
  stack.variables = {
      {DistributionShape::normal, 0}, {DistributionShape::normal, 0}, {DistributionShape::normal, 1}};
  stack.clearances[0].pins[0].offset_y = {{0, 0.1}};
  stack.clearances[0].pins[1].offset_y = {{1, 0.1}};
  stack.measures[0].sensitivities = {{2, 0.2}};
  const auto shares = variance_shares(stack, 0, many());
  REQUIRE(shares.size() == 3);
  const double holes = 0.0025 / 2, joint = 0.01, clearance = 0.01 * 4 / 15 / 2;
  const double whole = holes + joint + clearance;
  for (const auto& [share, wanted] :
       {std::pair(shares[0], holes), std::pair(shares[1], joint), std::pair(shares[2], clearance)}) {
    CHECK(share.alone == Approx(wanted / whole).margin(off()));
    CHECK(share.total == Approx(wanted / whole).margin(off()));
  }
}

TEST_CASE(
    "a contributor that only changes the room has no share by itself, and one together with the clearance") {
  // One pin with room r = r0 (1 + a v), v even from -1 to 1: x = r u, u that of an even point of the unit
  // disc. E[x | v] = 0, so v has no share of first order; Var x = E[r^2] Var u; knowing u leaves Var r u^2,
  // so that u alone has (E r)^2 / E[r^2], and v the rest in total. With nothing but u unknown all is left:
  // its total is 1.
  const double a = 0.8;
  ToleranceStack stack = clearance_stack({plain_pin({0, 0}, 0.1)}, kAlong);
  stack.variables = {{DistributionShape::rectangular, 0}};
  stack.clearances[0].pins[0].radius = {{0, 0.1 * a}};
  const auto shares = variance_shares(stack, 0, many());
  const double by_itself = 1 / (1 + a * a / 3);
  CHECK(shares[0].alone == Approx(0).margin(off()));
  CHECK(shares[0].total == Approx(1 - by_itself).margin(off()));
  CHECK(shares[1].alone == Approx(by_itself).margin(off()));
  CHECK(shares[1].total == Approx(1).margin(off()));
  CHECK(shares[0].total > shares[0].alone + 0.1);
}

TEST_CASE("a contributor that counts in a line and in the clearance is one, with both") {
  // x = t + u r, t the hole's own shift on top of a joint that moves with it.
  ToleranceStack stack = clearance_stack({plain_pin({0, 0}, 0.1)}, kAlong);
  stack.variables = {{DistributionShape::normal, 0}};
  stack.clearances[0].pins[0].offset_x = {{0, -0.2}};
  stack.measures[0].sensitivities = {{0, 0.1}};
  const auto shares = variance_shares(stack, 0, many());
  const double hole = 0.3 * 0.3 / 4, clearance = 0.1 * 0.1 / 4;
  CHECK(shares[0].alone == Approx(hole / (hole + clearance)).margin(off()));
  CHECK(shares[0].total == Approx(hole / (hole + clearance)).margin(off()));
  CHECK(shares[1].total == Approx(clearance / (hole + clearance)).margin(off()));
}

TEST_CASE("a clearance takes the numbers of an earlier one, and only of that") {
  ToleranceStack stack = clearance_stack({plain_pin({0, 0}, 0.1)}, kAlong);
  stack.clearances.push_back(stack.clearances[0]);
  stack.clearances[1].effects[0].along = {-1, 0};
  CHECK(sample(stack, {.samples = 1000}).measures[0].deviation > 0.05);
  stack.clearances[1].numbers_of = 0;
  CHECK(sample(stack, {.samples = 1000}).measures[0].deviation == 0);
  stack.clearances[0].numbers_of = 1;
  CHECK_THROWS_AS(sample(stack, {.samples = 1000}), std::invalid_argument);
}
