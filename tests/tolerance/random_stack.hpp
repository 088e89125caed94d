// Chains from a seed, and whether two drawings agree to the bit.
#pragma once

#include <bit>
#include <cstdint>
#include <vector>

#include "haftwright/tolerance/sampling.hpp"
#include "support/random.hpp"

namespace haftwright::test {

inline Sensitivities random_sensitivities(Random& random, std::size_t variables, double most_mm) {
  Sensitivities sensitivities;
  const std::size_t count = random.count(1, 3);
  for (std::size_t i = 0; i < count; ++i)
    sensitivities.push_back({random.index(variables), random.between(-most_mm, most_mm)});
  return sensitivities;
}

inline PinBound random_pin(Random& random, std::size_t variables) {
  PinBound pin{.at_mm = {random.between(0, 100), random.between(-10, 10)},
               .radius_mm = random.between(0.02, 0.2)};
  pin.offset_x = random_sensitivities(random, variables, 0.05);
  pin.offset_y = random_sensitivities(random, variables, 0.05);
  pin.radius = random_sensitivities(random, variables, 0.02);
  return pin;
}

/// One to four measures, and one or two clearances of none to five pins.
inline ToleranceStack random_stack(std::uint64_t seed) {
  Random random(seed);
  ToleranceStack stack;
  const std::size_t contributors = random.count(1, 4);
  const std::size_t variables = random.count(3, 20);
  for (std::size_t i = 0; i < contributors; ++i)
    stack.contributors.push_back({"contributor", "a contributor"});
  for (std::size_t i = 0; i < variables; ++i)
    stack.variables.push_back(
        {random.chance(0.5) ? DistributionShape::normal : DistributionShape::rectangular,
         random.index(contributors)});
  const std::size_t measures = random.count(1, 4);
  for (std::size_t i = 0; i < measures; ++i)
    stack.measures.push_back({.kind = random.chance(0.8) ? Measure::Kind::step_mm : Measure::Kind::angle_deg,
                              .nominal = random.between(-0.3, 0.3),
                              .visible = random.between(0.05, 0.3),
                              .sensitivities = random_sensitivities(random, variables, 0.2)});
  const std::size_t clearances = random.count(1, 2);
  for (std::size_t i = 0; i < clearances; ++i) {
    PatternClearance& clearance = stack.clearances.emplace_back();
    const std::size_t pins = random.count(0, 5);
    for (std::size_t k = 0; k < pins; ++k) clearance.pins.push_back(random_pin(random, variables));
    for (std::size_t k = 0; k < measures; ++k)
      clearance.effects.push_back(
          {.along = {random.between(-1, 1), random.between(-1, 1)}, .turn_mm = random.between(-50, 50)});
    clearance.free_along = random_sensitivities(random, variables, 0.2);
    clearance.free_across = random_sensitivities(random, variables, 0.2);
    clearance.free_turn = random_sensitivities(random, variables, 0.01);
    clearance.about_mm = {random.between(0, 100), 0};
  }
  return stack;
}

inline bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

inline bool same_bits(const Chance& a, const Chance& b) {
  return same_bits(a.share, b.share) && same_bits(a.low, b.low) && same_bits(a.high, b.high);
}

inline bool same_bits(const Samples& a, const Samples& b) {
  bool same = a.measures.size() == b.measures.size() && same_bits(a.any_shows, b.any_shows) &&
              same_bits(a.no_fit, b.no_fit) && same_bits(a.any_size_95, b.any_size_95);
  for (std::size_t m = 0; same && m < a.measures.size(); ++m) {
    const Distribution& p = a.measures[m];
    const Distribution& q = b.measures[m];
    same = same_bits(p.mean, q.mean) && same_bits(p.deviation, q.deviation) &&
           same_bits(p.low_95, q.low_95) && same_bits(p.high_95, q.high_95) &&
           same_bits(p.size_95, q.size_95) && same_bits(p.shows, q.shows) &&
           same_bits(p.bins_from, q.bins_from) && same_bits(p.bin_width, q.bin_width) && p.bins == q.bins;
  }
  return same;
}

}  // namespace haftwright::test
