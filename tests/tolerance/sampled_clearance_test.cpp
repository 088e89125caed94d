// Poses sampled from the clearance: against closed forms and against a slow sampler that knows nothing of the
// fast one.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "haftwright/tolerance/sampling.hpp"
#include "sample_engine.hpp"
#include "sample_program.hpp"
#include "support/random.hpp"
#include "tolerance/random_stack.hpp"

using namespace haftwright;
using namespace haftwright::tolerance;
using namespace haftwright::test;

namespace {

/// A stack of one clearance, whose measures are the given effects.
ToleranceStack clearance_stack(std::vector<PinBound> pins, std::vector<PoseEffect> effects) {
  ToleranceStack stack;
  stack.contributors.push_back({"hole", "a hole"});
  stack.measures.assign(effects.size(), {.nominal = 0, .visible = 1e3});
  stack.clearances.push_back({.pins = std::move(pins), .effects = std::move(effects)});
  return stack;
}

PinBound plain_pin(Vec2 at, double radius) {
  return {.at_mm = at, .radius_mm = radius};
}

/// The motion of point p along a direction.
PoseEffect motion(Vec2 p, Vec2 along) {
  return {.along = along, .turn_mm = cross(p, along)};
}

/// Five standard errors of a standard deviation of n values; no value of bounded or bell shape has a kurtosis
/// above 3 by much.
double band(double deviation, double n) {
  return 5 * deviation * std::sqrt(2.0 / (4 * n));
}

constexpr double n = 1e6;
const SampleSettings million{.samples = 1'000'000, .seed = 5};

bool fits(const std::vector<PinClearance>& pins, const Pose& pose) {
  for (const PinClearance& pin : pins)
    if (glm::length(pose.motion_of(pin.at_mm) + pin.offset_mm) > pin.radius_mm) return false;
  return true;
}

/// Tries shifts about the first pin and turns, evenly from ranges that hold every pose, until one fits.
Pose slow_pose(const std::vector<PinClearance>& pins, Random& random) {
  const PinClearance& first = pins.front();
  double most_turn = std::numeric_limits<double>::infinity();
  for (const PinClearance& pin : pins) {
    const double apart = glm::distance(pin.at_mm, first.at_mm);
    const double room =
        pin.radius_mm + first.radius_mm + glm::length(pin.offset_mm) + glm::length(first.offset_mm);
    if (apart > 0) most_turn = std::min(most_turn, room / apart);
  }
  for (;;) {
    const double turn = random.between(-most_turn, most_turn);
    const Vec2 moved = Vec2{random.between(-first.radius_mm, first.radius_mm),
                            random.between(-first.radius_mm, first.radius_mm)} -
                       first.offset_mm;
    const Pose pose{{moved.x + turn * first.at_mm.y, moved.y - turn * first.at_mm.x}, turn};
    if (fits(pins, pose)) return pose;
  }
}

double value_of(const Sensitivities& sensitivities, const std::vector<double>& variables) {
  double sum = 0;
  for (const Sensitivity& sensitivity : sensitivities)
    sum += sensitivity.mm_at_limit * variables[sensitivity.variable];
  return sum;
}

std::vector<PinClearance> pins_of(const PatternClearance& clearance, const std::vector<double>& variables) {
  std::vector<PinClearance> pins;
  for (const PinBound& pin : clearance.pins) {
    const double radius = pin.radius_mm + value_of(pin.radius, variables);
    pins.push_back({.at_mm = pin.at_mm,
                    .radius_mm = radius,
                    .offset_mm = {value_of(pin.offset_x, variables), value_of(pin.offset_y, variables)}});
  }
  return pins;
}

/// A row of pins with errors of every kind, all even so that nothing is left to the tails.
ToleranceStack random_row(std::uint64_t seed, double radius, double error) {
  Random random(seed);
  ToleranceStack stack = clearance_stack(
      {}, {motion({0, 0}, {1, 0}), motion({-10, 5}, {0, 1}), motion({120, -5}, {0.6, 0.8}), {.turn_mm = 50}});
  const auto variable = [&](double size) {
    stack.variables.push_back({DistributionShape::rectangular, 0});
    return Sensitivity{stack.variables.size() - 1, size};
  };
  const std::size_t count = random.count(2, 6);
  for (std::size_t i = 0; i < count; ++i) {
    PinBound pin =
        plain_pin({100.0 * static_cast<double>(i) / static_cast<double>(count), random.between(-15, 15)},
                  radius * random.between(0.7, 1.3));
    for (Sensitivities* sensitivities : {&pin.offset_x, &pin.offset_y, &pin.radius}) {
      const Sensitivity a = variable(error);
      const Sensitivity b = variable(error * random.between(0, 1));
      *sensitivities = {a, b};
    }
    stack.clearances[0].pins.push_back(pin);
  }
  return stack;
}

struct Strips {
  explicit Strips(const SampleProgram& program)
      : variables(program.stack().variables),
        added(program.stack().measures.count + 1),
        pins(3 * program.most_pins()),
        room{.variables = variables.data(), .added = added.data(), .pins = pins.data()} {}
  std::vector<Strip> variables, added, pins;
  StripRoom room;
};

}  // namespace

TEST_CASE("one pin: shifts spread evenly over its disc, and turned by eye about it") {
  const Vec2 at{40, 7};
  ToleranceStack stack = clearance_stack(
      {plain_pin(at, 0.2)}, {motion(at, {1, 0}), motion(at, {0, 1}), motion(at, {0.6, 0.8}), {.turn_mm = 1}});
  stack.variables.push_back({DistributionShape::normal, 0});
  stack.clearances[0].free_turn = {{0, 0.004}};
  const Samples samples = sample(stack, million);
  for (int i = 0; i < 3; ++i) {  // r^2 / 4 along any direction
    CHECK(samples.measures[static_cast<std::size_t>(i)].deviation == Approx(0.1).margin(band(0.1, n)));
    CHECK(samples.measures[static_cast<std::size_t>(i)].mean == Approx(0).margin(5 * 0.1 / std::sqrt(n)));
  }
  CHECK(samples.measures[3].deviation == Approx(0.002).margin(band(0.002, n)));
  CHECK(samples.no_fit.share == 0);
}

TEST_CASE("two pins on one spot: the smaller disc holds, and nothing turns but by eye") {
  const Vec2 at{40, 7};
  const Samples samples =
      sample(clearance_stack({plain_pin(at, 0.5), plain_pin(at, 0.2)}, {motion(at, {1, 0}), {.turn_mm = 1}}),
             million);
  CHECK(samples.measures[0].deviation == Approx(0.1).margin(band(0.1, n)));
  CHECK(samples.measures[1].deviation == 0);
}

TEST_CASE("no pin: lined up by eye along, across and turned about the given spot") {
  ToleranceStack stack =
      clearance_stack({}, {motion({30, 5}, {1, 0}), motion({30, 5}, {0, 1}), motion({10, 5}, {0, 1})});
  for (int i = 0; i < 3; ++i) stack.variables.push_back({DistributionShape::normal, 0});
  stack.clearances[0].about_mm = {10, 5};
  stack.clearances[0].free_along = {{0, 0.2}};
  stack.clearances[0].free_across = {{1, 0.4}};
  stack.clearances[0].free_turn = {{2, 0.01}};
  const Samples samples = sample(stack, million);
  CHECK(samples.measures[0].deviation == Approx(0.1).margin(band(0.1, n)));
  CHECK(samples.measures[1].deviation == Approx(std::hypot(0.2, 20 * 0.005)).margin(band(0.23, n)));
  CHECK(samples.measures[2].deviation == Approx(0.2).margin(band(0.2, n)));
}

TEST_CASE("two equal pins: density along their line as 1 - p^2, at any angle and place") {
  // Along: E p^2 = r^2/5. Square to it, given p, each pin is even within root(r^2 - p^2): E = 4 r^2/15.
  constexpr double r = 0.3;
  for (const double angle : {0.0, 0.5, 2.0, 4.0}) {
    const Vec2 e{std::cos(angle), std::sin(angle)};
    const Vec2 m{-e.y, e.x};
    const Vec2 a{17, -4};
    const Vec2 b = a + 60.0 * e;
    const Samples samples =
        sample(clearance_stack({plain_pin(a, r), plain_pin(b, r)},
                               {motion(a, e), motion(b, e), motion(a, m), motion(b, m), {.turn_mm = 60}}),
               million);
    const double along = r / std::sqrt(5.0);
    const double square = r * std::sqrt(4.0 / 15);
    CHECK(samples.measures[0].deviation == Approx(along).margin(band(along, n)));
    CHECK(samples.measures[1].deviation == Approx(along).margin(band(along, n)));
    CHECK(samples.measures[2].deviation == Approx(square).margin(band(square, n)));
    CHECK(samples.measures[3].deviation == Approx(square).margin(band(square, n)));
    // The two ends are independent given p, so the turn's lever is root 2 of one.
    CHECK(samples.measures[4].deviation ==
          Approx(std::numbers::sqrt2 * square).margin(band(std::numbers::sqrt2 * square, n)));
    // The share below q is 1/2 + 3/4 (q - q^3/3), which is 0.975 at:
    const double q = 2 * std::sin(std::asin(0.95) / 3);
    const double density = 0.75 * (1 - q * q) / r;
    CHECK(samples.measures[0].high_95 == Approx(q * r).margin(5 * std::sqrt(0.025 * 0.975 / n) / density));
  }
}

TEST_CASE("random rows of pins: the same spread as a slow sampler's") {
  constexpr int slow_samples = 20'000;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    // Holes off by at most a fifth of the room, so that every sample has poses.
    const ToleranceStack stack = random_row(seed, 0.2, 0.008);
    const Samples fast = sample(stack, {.samples = 400'000, .seed = seed});
    REQUIRE(fast.no_fit.share == 0);
    Random random(seed + 1000);
    std::vector<double> sums(stack.measures.size()), squares(stack.measures.size());
    for (int i = 0; i < slow_samples; ++i) {
      std::vector<double> variables;
      for (std::size_t v = 0; v < stack.variables.size(); ++v) variables.push_back(random.between(-1, 1));
      const Pose pose = slow_pose(pins_of(stack.clearances[0], variables), random);
      for (std::size_t m = 0; m < sums.size(); ++m) {
        const double value = stack.clearances[0].effects[m].of(pose);
        sums[m] += value;
        squares[m] += value * value;
      }
    }
    for (std::size_t m = 0; m < sums.size(); ++m) {
      INFO("seed " << seed << " measure " << m);
      const double mean = sums[m] / slow_samples;
      const double deviation = std::sqrt(squares[m] / slow_samples - mean * mean);
      CHECK(fast.measures[m].deviation == Approx(deviation).margin(band(deviation, slow_samples) * 1.03));
      CHECK(fast.measures[m].mean == Approx(mean).margin(5 * deviation / std::sqrt(slow_samples) * 1.03));
    }
  }
}

TEST_CASE("a sample counts as no fit when no pose lets every pin in, and hardly ever else") {
  std::uint64_t sampled = 0, none = 0, missed = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const ToleranceStack stack = random_row(seed, 0.1, 0.065);  // holes as far off as the pins have room
    const SampleProgram program(stack, seed);
    Strips strips(program);
    for (std::uint64_t first = 0; first < 256; first += strip_samples) {
      plain_kernel.sample_strip(program.stack(), first, strips.room);
      for (unsigned i = 0; i < strip_samples; ++i) {
        std::vector<double> variables;
        for (const Strip& variable : strips.variables)
          variables.push_back(static_cast<double>(variable.at[i / lanes][i % lanes]));
        const auto room = deepest(pins_of(stack.clearances[0], variables));
        REQUIRE(room);
        const bool said_none = (strips.room.no_fit >> i & 1) != 0;
        if (room->room_mm < -1e-6) CHECK(said_none);
        ++sampled;
        none += room->room_mm < 0 ? 1 : 0;
        missed += room->room_mm >= 0 && said_none ? 1 : 0;
      }
    }
  }
  INFO(none << " of " << sampled << " have no pose; of the others " << missed << " were missed");
  CHECK(none > sampled / 10);
  CHECK(none < sampled * 9 / 10);
  CHECK(missed <= (sampled - none) / 100);
}

TEST_CASE("a pin that does not go in: no fit, and the holes brought as near as can be") {
  // Two pins without room whose holes are off: the least squares pose moves both by the mean of what they
  // ask.
  ToleranceStack stack =
      clearance_stack({plain_pin({0, 0}, -0.01), plain_pin({50, 0}, -0.01)},
                      {motion({0, 0}, {1, 0}), motion({0, 0}, {0, 1}), motion({50, 0}, {0, 1})});
  for (int i = 0; i < 4; ++i) stack.variables.push_back({DistributionShape::rectangular, 0});
  stack.clearances[0].pins[0].offset_x = {{0, 0.3}};
  stack.clearances[0].pins[0].offset_y = {{1, 0.3}};
  stack.clearances[0].pins[1].offset_x = {{2, 0.3}};
  stack.clearances[0].pins[1].offset_y = {{3, 0.3}};
  const Samples samples = sample(stack, million);
  CHECK(samples.no_fit.share == 1);
  const double one = 0.3 / std::sqrt(3.0);
  CHECK(samples.measures[0].deviation == Approx(one / std::numbers::sqrt2).margin(band(one, n)));
  CHECK(samples.measures[1].deviation == Approx(one).margin(band(one, n)));
  CHECK(samples.measures[2].deviation == Approx(one).margin(band(one, n)));
}

TEST_CASE("no sample of errors that end at their limits goes beyond the worst case") {
  std::size_t near = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    ToleranceStack stack = random_stack(seed);
    for (Variable& variable : stack.variables) variable.shape = DistributionShape::rectangular;
    for (PatternClearance& clearance : stack.clearances)
      for (PinBound& pin : clearance.pins) pin.radius_mm += 0.5;  // every sample has poses
    for (std::size_t m = 0; m < stack.measures.size(); ++m)
      stack.measures[m].visible = limits_of(stack, m).worst * (1 + 1e-6) + 1e-6;
    const Samples samples = sample(stack, {.samples = 20'000, .seed = seed});
    REQUIRE(samples.no_fit.share == 0);
    for (std::size_t m = 0; m < stack.measures.size(); ++m) {
      INFO("seed " << seed << " measure " << m);
      CHECK(samples.measures[m].shows.share == 0);
      near += samples.measures[m].size_95 > 0.5 * stack.measures[m].visible ? 1 : 0;
    }
  }
  CHECK(near > 10);  // the limits are not so wide that nothing could fail
}
