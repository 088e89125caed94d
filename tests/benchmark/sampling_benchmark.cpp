// Speed of sampling a whole error stack, beside plain loops: the same stack, the same way to take a pose, the
// same statistics, once with the standard library's random numbers and once with the very numbers that the
// sampling takes. The latter's samples are the same handles, so that its figures must agree.
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
  Samples samples;
  for (auto _ : state) {
    samples =
        sample(stack, {.samples = million, .seed = 1, .threads = static_cast<unsigned>(state.range(0))});
    benchmark::DoNotOptimize(samples);
  }
  state.counters["any_shows"] = samples.any_shows.share;
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

/// Where a plain loop's numbers come from: the standard library.
class StandardNumbers {
 public:
  void begin(std::uint64_t) {}
  double variable(std::size_t, DistributionShape shape) {
    return shape == DistributionShape::normal ? normal_(bits_) : even_(bits_);
  }
  std::array<double, 3> of_try(unsigned) { return {even_(bits_), even_(bits_), even_(bits_)}; }

 private:
  std::mt19937_64 bits_{1};
  std::normal_distribution<double> normal_{0, 0.5};
  std::uniform_real_distribution<double> even_{-1, 1};
};

/// Four words of Philox4x32-10 (J. K. Salmon and others, SC11, 2011), written plainly.
std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> word, std::uint64_t key) {
  auto key_low = static_cast<std::uint32_t>(key);
  auto key_high = static_cast<std::uint32_t>(key >> 32);
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t a = std::uint64_t{word[0]} * 0xD2511F53u;
    const std::uint64_t b = std::uint64_t{word[2]} * 0xCD9E8D57u;
    word = {static_cast<std::uint32_t>(b >> 32) ^ word[1] ^ key_low, static_cast<std::uint32_t>(b),
            static_cast<std::uint32_t>(a >> 32) ^ word[3] ^ key_high, static_cast<std::uint32_t>(a)};
    key_low += 0x9E3779B9u;
    key_high += 0xBB67AE85u;
  }
  return word;
}

double even_in_one(std::uint32_t bits) {
  return (static_cast<double>((bits >> 8) | 1u) - (1 << 23)) * 0x1p-23;
}

/// Half a standard normal value, by the inverse of its distribution (M. Giles, GPU Computing Gems, 2011).
double half_normal(double x) {
  constexpr double middle[] = {2.81022636e-08, 3.43273939e-07, -3.5233877e-06, -4.39150654e-06, 0.00021858087,
                               -0.00125372503, -0.00417768164, 0.246640727,    1.50140941};
  constexpr double tail[] = {-0.000200214257, 0.000100950558, 0.00134934322, -0.00367342844, 0.00573950773,
                             -0.0076224613,   0.00943887047,  1.00167406,    2.83297682};
  const double w = -std::log((1 - x) * (1 + x));
  const bool far = w >= 5;
  const double at = far ? std::sqrt(w) - 3 : w - 2.5;
  double sum = 0;
  for (const double c : far ? tail : middle) sum = sum * at + c;
  return 0.5 * sum * x * 1.4142135623730951;
}

/// Where a plain loop's numbers come from: counters, as in the sampling itself.
class CounterNumbers {
 public:
  void begin(std::uint64_t sample) {
    sample_ = sample;
    four_ = kNone;
  }
  /// Variables in rising order cost one set of words for four.
  double variable(std::size_t index, DistributionShape shape) {
    if (const auto four = static_cast<std::uint32_t>(index / 4); four != four_) {
      four_ = four;
      words_ = words(four, 0);
    }
    const double even = even_in_one(words_[index % 4]);
    return shape == DistributionShape::normal ? half_normal(even) : even;
  }
  std::array<double, 3> of_try(unsigned number) {
    const std::array<std::uint32_t, 4> word = words(number, 1);
    return {even_in_one(word[0]), even_in_one(word[1]), even_in_one(word[2])};
  }

 private:
  static constexpr std::uint32_t kNone = 0xffffffff;
  std::array<std::uint32_t, 4> words(std::uint32_t number, std::uint32_t stream) const {
    return philox(
        {static_cast<std::uint32_t>(sample_), static_cast<std::uint32_t>(sample_ >> 32), number, stream}, 1);
  }
  std::uint64_t sample_ = 0;
  std::uint32_t four_ = kNone;
  std::array<std::uint32_t, 4> words_{};
};

/// Where a coordinate of a pose may lie.
struct Range {
  double low = -1e9;
  double high = 1e9;
  void narrow(double middle, double half) {
    low = std::max(low, middle - half);
    high = std::min(high, middle + half);
  }
  double middle() const { return (low + high) / 2; }
  double half() const { return (high - low) / 2; }
  double at(double even) const { return middle() + half() * even; }
};

/// What the bounds at one place leave of its motion along a direction.
Range room_at(const std::vector<PinClearance>& pins, Vec2 place, Vec2 direction) {
  Range room;
  for (const PinClearance& pin : pins)
    if (pin.at_mm == place) room.narrow(-glm::dot(pin.offset_mm, direction), pin.radius_mm);
  return room;
}

/// A pose by trying: the outermost pins' motions along their line and square to it, taken evenly from the box
/// that all bounds leave. Of 64 tries the last is kept when none fits.
template <class Numbers>
Pose plain_pose(const std::vector<PinClearance>& pins, Numbers& numbers, bool& found) {
  const Vec2 start = pins.front().at_mm;
  const Vec2 end = pins.back().at_mm;
  const double length = glm::distance(start, end);
  const Vec2 e = (end - start) / length;
  const Vec2 m = turned_left(e);
  const Range at_start = room_at(pins, start, m);
  const Range at_end = room_at(pins, end, m);
  Range along;
  for (const PinClearance& pin : pins) {
    const double aside = glm::dot(pin.at_mm - start, m) / length;
    along.narrow(aside * (at_end.middle() - at_start.middle()) - glm::dot(pin.offset_mm, e),
                 pin.radius_mm + std::abs(aside) * (at_start.half() + at_end.half()));
  }
  Pose pose;
  for (unsigned i = 0; i < 64 && !found; ++i) {
    const std::array<double, 3> even = numbers.of_try(i);
    const double alpha = at_start.at(even[1]);
    const double turn = (at_end.at(even[2]) - alpha) / length;
    pose = {along.at(even[0]) * e + alpha * m - turn * turned_left(start), turn};
    found = std::all_of(pins.begin(), pins.end(), [&](const PinClearance& pin) {
      const Vec2 d = pose.motion_of(pin.at_mm) + pin.offset_mm;
      return glm::dot(d, d) <= pin.radius_mm * pin.radius_mm;
    });
  }
  return pose;
}

void place_pins(const PatternClearance& clearance, const std::vector<double>& variables,
                std::vector<PinClearance>& pins) {
  pins.clear();
  for (const PinBound& pin : clearance.pins) {
    const double radius = pin.radius_mm + value_of(pin.radius, variables);
    pins.push_back(
        {pin.at_mm, radius, {value_of(pin.offset_x, variables), value_of(pin.offset_y, variables)}});
  }
}

struct PlainResult {
  std::vector<PlainCount> counts;
  std::uint64_t any_shows = 0;
  std::uint64_t no_fit = 0;
};

template <class Numbers>
PlainResult plain_samples(const ToleranceStack& stack) {
  Numbers numbers;
  PlainResult result{.counts = std::vector<PlainCount>(stack.measures.size() + 1)};
  std::vector<double> variables(stack.variables.size());
  std::vector<PinClearance> pins;
  for (std::uint64_t i = 0; i < million; ++i) {
    numbers.begin(i);
    for (std::size_t v = 0; v < variables.size(); ++v)
      variables[v] = numbers.variable(v, stack.variables[v].shape);
    bool found = false;
    place_pins(stack.clearances[0], variables, pins);
    const Pose pose = plain_pose(pins, numbers, found);
    result.no_fit += found ? 0 : 1;
    bool any = false;
    double greatest = 0;
    for (std::size_t m = 0; m < stack.measures.size(); ++m) {
      const Measure& measure = stack.measures[m];
      const double x = measure.nominal + value_of(measure.sensitivities, variables) +
                       stack.clearances[0].effects[m].of(pose);
      const bool shows = std::abs(x) > measure.visible;
      result.counts[m].shows += shows ? 1 : 0;
      any = any || shows;
      greatest = std::max(greatest, std::abs(x));
      result.counts[m].take(x);
    }
    result.counts.back().take(greatest);
    result.any_shows += any ? 1 : 0;
  }
  return result;
}

template <class Numbers>
void plain_loop(benchmark::State& state) {
  const ToleranceStack stack = handle_stack();
  PlainResult result;
  for (auto _ : state) {
    result = plain_samples<Numbers>(stack);
    benchmark::DoNotOptimize(result.counts.data());
  }
  state.counters["any_shows"] = static_cast<double>(result.any_shows) / million;
  state.counters["no_fit"] = static_cast<double>(result.no_fit) / million;
}

void samples_of_a_handle_by_a_plain_loop(benchmark::State& state) {
  plain_loop<StandardNumbers>(state);
}
BENCHMARK(samples_of_a_handle_by_a_plain_loop)->Unit(benchmark::kMillisecond)->UseRealTime();

/// The same handles as the sampling itself takes, up to rounding.
void the_same_samples_by_a_plain_loop(benchmark::State& state) {
  plain_loop<CounterNumbers>(state);
}
BENCHMARK(the_same_samples_by_a_plain_loop)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
