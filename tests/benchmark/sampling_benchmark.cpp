// Speed of sampling a whole error stack, beside a plain loop with the standard library's random numbers: the
// same stack, the same way to take a pose, the same statistics.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "haftwright/tolerance/sampling.hpp"

namespace {

using namespace haftwright;

constexpr std::uint64_t million = 1'000'000;

/// Six pins of five bounds, two joints: 78 variables, 12 measures. Each hole is off by four variables and
/// leans, each clearance has three of its own; the joint lines' ends on tang face and finished surface, spine
/// and belly, and four places of the front face have eight sensitivities each.
ToleranceStack handle_stack() {
  ToleranceStack stack;
  stack.contributors = {{"holes", "holes"}, {"sizes", "sizes"}, {"leans", "leans"}, {"joints", "joints"}};
  const auto variable = [&](DistributionShape spread, std::size_t contributor) {
    stack.variables.push_back({spread, contributor});
    return stack.variables.size() - 1;
  };
  PatternClearance& clearance = stack.clearances.emplace_back();
  for (std::size_t i = 0; i < 6; ++i) {
    PinBound pin{.at_mm = {12 + 18.0 * static_cast<double>(i), i % 2 == 0 ? -2.0 : 2.0}, .radius_mm = 0.12};
    for (int k = 0; k < 2; ++k) {
      pin.offset_x.push_back({variable(DistributionShape::normal, 0), 0.04});
      pin.offset_y.push_back({variable(DistributionShape::normal, 0), 0.04});
    }
    for (int k = 0; k < 3; ++k)
      pin.radius.push_back(
          {variable(k == 0 ? DistributionShape::normal : DistributionShape::rectangular, 1), 0.01});
    const std::size_t lean_x = variable(DistributionShape::normal, 2);
    const std::size_t lean_y = variable(DistributionShape::normal, 2);
    // How far beyond a hole's mouth its lean counts, over its length.
    for (const double beyond : {0.5, 0.5, 1.5, 1.5, 0.0}) {
      PinBound bound = pin;
      bound.radius_mm *= 1 + beyond;
      for (Sensitivity& sensitivity : bound.radius) sensitivity.mm_at_limit *= 1 + beyond;
      if (beyond > 0) bound.offset_x.push_back({lean_x, 0.02 * beyond});
      if (beyond > 0) bound.offset_y.push_back({lean_y, 0.02 * beyond});
      clearance.pins.push_back(bound);
    }
  }
  const std::size_t first = stack.variables.size();
  for (int i = 0; i < 24; ++i)
    variable(i % 3 == 0 ? DistributionShape::rectangular : DistributionShape::normal, 3);
  for (std::size_t m = 0; m < 12; ++m) {
    Measure measure{.nominal = 0.01 * static_cast<double>(m), .visible = 0.15};
    for (std::size_t t = 0; t < 8; ++t)
      measure.sensitivities.push_back({first + (m * 5 + t * 3) % 24, 0.02 + 0.005 * static_cast<double>(t)});
    stack.measures.push_back(measure);
    clearance.effects.push_back(
        {.along = {1, 0.1 * (static_cast<double>(m % 3) - 1)}, .turn_mm = m % 2 == 0 ? -12.0 : 12.0});
  }
  return stack;
}

void samples_of_a_handle(benchmark::State& state) {
  const ToleranceStack stack = handle_stack();
  std::uint64_t seed = 0;
  Samples samples;
  for (auto _ : state) {
    samples =
        sample(stack, {.samples = million, .seed = ++seed, .threads = static_cast<unsigned>(state.range(0))});
    benchmark::DoNotOptimize(samples);
  }
  state.counters["any_size_95_mm"] = samples.any_size_95;
  state.counters["no_fit"] = samples.no_fit.share;
}
BENCHMARK(samples_of_a_handle)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

/// The plain loop's account of one measure.
struct PlainCount {
  double sum = 0, squares = 0;
  std::uint64_t shows = 0;
  std::array<std::uint32_t, 2048> bins{};
  void take(double x) {
    sum += x;
    squares += x * x;
    ++bins[static_cast<std::size_t>(std::clamp((x + 1) * 1024, 0.0, 2047.0))];
  }
};

double value_of(const Sensitivities& sensitivities, const std::vector<double>& variables) {
  double sum = 0;
  for (const Sensitivity& sensitivity : sensitivities)
    sum += sensitivity.mm_at_limit * variables[sensitivity.variable];
  return sum;
}

/// A pose by trying: the outermost pins' motions along their line and square to it, sampled from their discs'
/// boxes. Of 64 tries the last is kept when none fits.
Pose plain_pose(const std::vector<PinClearance>& pins, std::mt19937_64& bits, bool& found) {
  const PinClearance& a = pins.front();
  const PinClearance& b = pins.back();
  const Vec2 way = b.at_mm - a.at_mm;
  const double length = glm::length(way);
  const Vec2 e = way / length;
  const Vec2 m = turned_left(e);
  double low = -1e9, high = 1e9;
  for (const PinClearance* pin : {&a, &b}) {
    low = std::max(low, -pin->radius_mm - glm::dot(pin->offset_mm, e));
    high = std::min(high, pin->radius_mm - glm::dot(pin->offset_mm, e));
  }
  std::uniform_real_distribution<double> even(-1, 1);
  Pose pose;
  for (int i = 0; i < 64 && !found; ++i) {
    const double p = (low + high) / 2 + (high - low) / 2 * even(bits);
    const double alpha = a.radius_mm * even(bits) - glm::dot(a.offset_mm, m);
    const double beta = b.radius_mm * even(bits) - glm::dot(b.offset_mm, m);
    const double turn = (beta - alpha) / length;
    pose = {p * e + alpha * m - turn * turned_left(a.at_mm), turn};
    found = std::all_of(pins.begin(), pins.end(), [&](const PinClearance& pin) {
      const Vec2 d = pose.motion_of(pin.at_mm) + pin.offset_mm;
      return glm::dot(d, d) <= pin.radius_mm * pin.radius_mm;
    });
  }
  return pose;
}

std::vector<PinClearance> plain_pins(const PatternClearance& clearance,
                                     const std::vector<double>& variables) {
  std::vector<PinClearance> pins;
  for (const PinBound& pin : clearance.pins) {
    const double radius = pin.radius_mm + value_of(pin.radius, variables);
    pins.push_back(
        {pin.at_mm, radius, {value_of(pin.offset_x, variables), value_of(pin.offset_y, variables)}});
  }
  return pins;
}

void samples_of_a_handle_by_a_plain_loop(benchmark::State& state) {
  const ToleranceStack stack = handle_stack();
  for (auto _ : state) {
    std::mt19937_64 bits(1);
    std::normal_distribution<double> normal(0, 0.5);
    std::uniform_real_distribution<double> even(-1, 1);
    std::vector<double> variables(stack.variables.size());
    std::vector<PlainCount> counts(stack.measures.size() + 1);
    std::uint64_t any_shows = 0, no_fit = 0;
    for (std::uint64_t i = 0; i < million; ++i) {
      for (std::size_t v = 0; v < variables.size(); ++v)
        variables[v] = stack.variables[v].shape == DistributionShape::normal ? normal(bits) : even(bits);
      bool found = false;
      const Pose pose = plain_pose(plain_pins(stack.clearances[0], variables), bits, found);
      no_fit += found ? 0 : 1;
      bool any = false;
      double greatest = 0;
      for (std::size_t m = 0; m < stack.measures.size(); ++m) {
        const Measure& measure = stack.measures[m];
        const double x = measure.nominal + value_of(measure.sensitivities, variables) +
                         stack.clearances[0].effects[m].of(pose);
        const bool shows = std::abs(x) > measure.visible;
        counts[m].shows += shows ? 1 : 0;
        any = any || shows;
        greatest = std::max(greatest, std::abs(x));
        counts[m].take(x);
      }
      counts.back().take(greatest);
      any_shows += any ? 1 : 0;
    }
    benchmark::DoNotOptimize(counts.data());
    benchmark::DoNotOptimize(any_shows);
    benchmark::DoNotOptimize(no_fit);
  }
}
BENCHMARK(samples_of_a_handle_by_a_plain_loop)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
