// Poses pushed to the end of the pins' clearance; see sample_lanes.hpp for why nothing here has linkage.
//
// A push is a force at each of the two outermost pins. Where it ends is the greatest value of a linear
// function on the poses that the pins leave, found along the central path: Newton's steps on strength * push
// - sum of log(radius^2 - distance^2), the strength raised at each, so short that they can't leave the set.
#pragma once

#include "sample_lanes.hpp"

namespace haftwright::tolerance {
namespace {

/// The strength grows by creep_growth^creep_steps = 1.8e3 in all: what is left of the way to the end is then
/// under 1 % of the clearance.
constexpr int creep_steps = 20;
constexpr float creep_growth = 1.5f;
/// Third word of the counter that a push's random numbers come from; tries have those below.
constexpr std::uint32_t push_word = 0x100;

HAFTWRIGHT_LANES U8 sample_numbers(std::uint64_t first_sample, int lane_group) {
  const auto low = static_cast<std::uint32_t>(first_sample) + static_cast<std::uint32_t>(lane_group * lanes);
  return all(low) + U8{0, 1, 2, 3, 4, 5, 6, 7};
}

/// Slope and curvature of the barriers at a pose.
struct Barrier {
  F8 slope[3];
  F8 aa, ab, ac, bb, bc, cc;  ///< the symmetric matrix of curvatures
  I8 inside;
};

HAFTWRIGHT_LANES Barrier barrier_at(const SampledClearance& clearance, const Strip* hole, int k,
                                    const F8 pose[3]) {
  const F8 none = all(0.0f);
  Barrier sum{{none, none, none}, none, none, none, none, none, none, ~I8{}};
  const F8 across = pose[2] - pose[1];
  for (const SampledPin& pin : clearance.pins) {
    const F8 x = pose[0] - pin.aside * across + hole[0].at[k];
    const F8 y = pose[1] + pin.share * across + hole[1].at[k];
    const F8 room = hole[2].at[k] * hole[2].at[k] - x * x - y * y;
    sum.inside &= room > 0.0f;
    const F8 scale = 2.0f / room;
    const float rest = 1.0f - pin.share;
    const F8 a = scale * x;
    const F8 b = scale * (pin.aside * x + rest * y);
    const F8 c = scale * (pin.share * y - pin.aside * x);
    sum.slope[0] += a;
    sum.slope[1] += b;
    sum.slope[2] += c;
    const float square = pin.aside * pin.aside;
    sum.aa += a * a + scale;
    sum.ab += a * b + scale * pin.aside;
    sum.ac += a * c - scale * pin.aside;
    sum.bb += b * b + scale * (square + rest * rest);
    sum.bc += b * c + scale * (rest * pin.share - square);
    sum.cc += c * c + scale * (square + pin.share * pin.share);
    hole += 3;
  }
  if (clearance.hold != SampledClearance::Hold::held)
    sum.cc += 1.0f;  // the third coordinate does nothing there
  return sum;
}

/// x with curvature x = right.
HAFTWRIGHT_LANES void solve(const Barrier& m, const F8 right[3], F8 x[3]) {
  const F8 ca = m.bb * m.cc - m.bc * m.bc;
  const F8 cb = m.bc * m.ac - m.ab * m.cc;
  const F8 cc = m.ab * m.bc - m.bb * m.ac;
  const F8 one = 1.0f / (m.aa * ca + m.ab * cb + m.ac * cc);
  x[0] = (ca * right[0] + cb * right[1] + cc * right[2]) * one;
  x[1] =
      (cb * right[0] + (m.aa * m.cc - m.ac * m.ac) * right[1] + (m.ab * m.ac - m.aa * m.bc) * right[2]) * one;
  x[2] =
      (cc * right[0] + (m.ab * m.ac - m.aa * m.bc) * right[1] + (m.aa * m.bb - m.ab * m.ab) * right[2]) * one;
}

HAFTWRIGHT_LANES F8 dot(const F8 a[3], const F8 b[3]) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// Eight pushes: along the clearance's line, and square to it at either end.
HAFTWRIGHT_LANES void pushes(const SampledStack& stack, const SampledClearance& clearance,
                             std::uint64_t first_sample, int k, F8 push[3]) {
  Words words[1] = {{{sample_numbers(first_sample, k), all(static_cast<std::uint32_t>(first_sample >> 32)),
                      all(push_word), all(clearance.stream)}}};
  philox(words, stack.seed);
  for (int i = 0; i < 3; ++i) push[i] = normal_from(even_in_one(words[0].word[i]));
  if (clearance.hold != SampledClearance::Hold::held) push[2] = all(0.0f);
}

/// Pushes the poses whose bit in `even` says that they lie well within the clearance; others are at its end
/// already, or have none.
HAFTWRIGHT_LANES void creep(const SampledStack& stack, const SampledClearance& clearance,
                            std::uint64_t first_sample, std::uint64_t even, const Strip* pins,
                            Strip poses[3]) {
  for (int k = 0; k < strip_lanes; ++k) {
    F8 push[3], pose[3], inside[3];
    pushes(stack, clearance, first_sample, k, push);
    for (int i = 0; i < 3; ++i) inside[i] = pose[i] = poses[i].at[k];
    F8 strength = all(0.0f);
    for (int step = 0; step <= creep_steps; ++step) {
      Barrier barrier = barrier_at(clearance, pins, k, pose);
      for (int i = 0; i < 3; ++i) inside[i] = pose[i] = barrier.inside ? pose[i] : inside[i];
      F8 way[3], down[3];
      if (step == 0) {
        solve(barrier, push, way);
        strength = 1.0f / root(dot(push, way));
      }
      for (int i = 0; i < 3; ++i) down[i] = strength * push[i] - barrier.slope[i];
      solve(barrier, down, way);
      const F8 part = 1.0f / (1.0f + root(greatest(dot(down, way), all(0.0f))));
      for (int i = 0; i < 3; ++i) pose[i] = barrier.inside ? pose[i] + part * way[i] : pose[i];
      strength *= creep_growth;
    }
    for (int i = 0; i < lanes; ++i)
      if ((even >> (k * lanes + i) & 1u) != 0)
        for (int c = 0; c < 3; ++c) poses[c].at[k][i] = inside[c][i];
  }
}

}  // namespace
}  // namespace haftwright::tolerance
