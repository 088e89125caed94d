// The work on one strip of samples. Included by one file an instruction set; see sample_lanes.hpp for why
// nothing here has linkage.
#pragma once

#include "sample_count.hpp"
#include "sample_creep.hpp"

namespace haftwright::tolerance {
namespace {

/// How often a pose is tried, eight at a time, before one is sought that merely fits.
constexpr int try_rounds = 8;
constexpr int move_in_sweeps = 64;
/// Tries that all samples have at first, eight samples at a time. Even.
constexpr std::uint32_t first_try_rounds = 4;

/// Even numbers for four variables; the strips of those that are not used are left alone.
HAFTWRIGHT_LANES void sample_four(const SampledFour& four, std::uint64_t first_sample, std::uint64_t seed,
                                  Strip* to) {
  const U8 sample_high = all(static_cast<std::uint32_t>(first_sample >> 32));
  const U8 number = all(four.first / 4);
  for (int k = 0; k < strip_lanes; k += 2) {
    Words words[2] = {{{sample_numbers(first_sample, k), sample_high, number, all(0u)}},
                      {{sample_numbers(first_sample, k + 1), sample_high, number, all(0u)}}};
    philox(words, seed);
#pragma GCC unroll 4
    for (int w = 0; w < 4; ++w) {
      if (!four.used[w]) continue;
      to[w].at[k] = even_in_one(words[0].word[w]);
      to[w].at[k + 1] = even_in_one(words[1].word[w]);
    }
  }
}

HAFTWRIGHT_LANES void sample_variables(const SampledStack& stack, std::uint64_t first_sample,
                                       Strip* variables) {
  for (const SampledFour& four : stack.fours) {
    Strip* const to = variables + four.first;
    sample_four(four, first_sample, stack.seed, to);
    for (int w = 0; w < 4; ++w)
      if (four.used[w] && four.normal[w])
        for (F8& x : to[w].at) x = 0.5f * normal_from(x);
  }
}

HAFTWRIGHT_LANES void add_sensitivities(const List<SampledSensitivity>& sensitivities, const Strip* variables,
                                        Strip& to) {
  Strip sum = to;
  for (const SampledSensitivity& sensitivity : sensitivities)
#pragma GCC unroll 8
    for (int k = 0; k < strip_lanes; ++k)
      sum.at[k] += sensitivity.size * variables[sensitivity.variable].at[k];
  to = sum;
}

HAFTWRIGHT_LANES void fill(Strip& strip, float with) {
  for (F8& lane : strip.at) lane = all(with);
}

/// Where each hole is and how much room its pin has: three strips a pin.
HAFTWRIGHT_LANES void place_pins(const SampledClearance& clearance, const Strip* variables, Strip* pins) {
  for (const SampledPin& pin : clearance.pins) {
    fill(pins[0], 0);
    fill(pins[1], 0);
    fill(pins[2], pin.radius);
    add_sensitivities(pin.offset_along, variables, pins[0]);
    add_sensitivities(pin.offset_square, variables, pins[1]);
    add_sensitivities(pin.radius_sensitivities, variables, pins[2]);
    pins += 3;
  }
}

/// The poses lie in this box: middles and half lengths of p, alpha, beta. Negative where there is none.
struct Boxes {
  Strip middle[3];
  Strip half[3];
};

/// What the bounds on one spot leave of the motion square to the clearance's line, as the box's coordinate c.
HAFTWRIGHT_LANES void box_square(const SampledClearance& clearance, const Strip* pins,
                                 bool SampledPin::*on_spot, int c, Boxes& boxes) {
  for (int k = 0; k < strip_lanes; ++k) {
    F8 low = all(-1e30f);
    F8 high = all(1e30f);
    const Strip* hole = pins;
    for (const SampledPin& pin : clearance.pins) {
      if (pin.*on_spot) {
        low = greatest(low, -hole[1].at[k] - hole[2].at[k]);
        high = least(high, hole[2].at[k] - hole[1].at[k]);
      }
      hole += 3;
    }
    boxes.middle[c].at[k] = 0.5f * (low + high);
    boxes.half[c].at[k] = 0.5f * (high - low);
  }
}

HAFTWRIGHT_LANES void box_poses(const SampledClearance& clearance, const Strip* pins, Boxes& boxes) {
  box_square(clearance, pins, &SampledPin::at_a, 1, boxes);
  box_square(clearance, pins, &SampledPin::at_b, 2, boxes);
  for (int k = 0; k < strip_lanes; ++k) {
    const F8 turn_middle = boxes.middle[2].at[k] - boxes.middle[1].at[k];
    const F8 turn_half = boxes.half[1].at[k] + boxes.half[2].at[k];
    F8 low = all(-1e30f);
    F8 high = all(1e30f);
    F8 least_half = least(boxes.half[1].at[k], boxes.half[2].at[k]);
    const Strip* hole = pins;
    for (const SampledPin& pin : clearance.pins) {
      const F8 middle = pin.aside * turn_middle - hole[0].at[k];
      const F8 half = hole[2].at[k] + (pin.aside < 0 ? -pin.aside : pin.aside) * turn_half;
      low = greatest(low, middle - half);
      high = least(high, middle + half);
      least_half = least(least_half, hole[2].at[k]);
      hole += 3;
    }
    boxes.middle[0].at[k] = 0.5f * (low + high);
    boxes.half[0].at[k] = least_half < 0.0f ? all(-1.0f) : 0.5f * (high - low);
  }
}

HAFTWRIGHT_LANES float value(const Strip& strip, int sample) {
  return strip.at[sample / lanes][sample % lanes];
}

/// Which of eight poses leave every pin in its hole.
HAFTWRIGHT_LANES unsigned which_fit(const SampledClearance& clearance, const Strip* pins, int sample,
                                    const F8 pose[3]) {
  const F8 across = pose[2] - pose[1];
  I8 fits = ~I8{};  // in every lane
  for (const SampledPin& pin : clearance.pins) {
    const F8 x = pose[0] - pin.aside * across + value(pins[0], sample);
    const F8 y = pose[1] + pin.share * across + value(pins[1], sample);
    const float radius = value(pins[2], sample);
    fits &= x * x + y * y <= radius * radius;
    pins += 3;
  }
  return bits_of(fits);
}

/// Where a pose puts a pin against its hole, in the clearance's own axes.
struct Place {
  float along, square;
};
HAFTWRIGHT_LANES Place place_at(const SampledPin& pin, const Strip* hole, int sample, const float pose[3]) {
  const float across = pose[2] - pose[1];
  return {pose[0] - pin.aside * across + value(hole[0], sample),
          pose[1] + pin.share * across + value(hole[1], sample)};
}

/// The pose that brings the holes nearest to their pins.
HAFTWRIGHT_LANES void nearest_pose(const SampledClearance& clearance, const Strip* pins, int sample,
                                   float found[3]) {
  const float* part = clearance.nearest;
  for (int row = 0; row < 3; ++row) {
    found[row] = 0;
    for (std::uint32_t i = 0; i < clearance.pins.count; ++i, part += 2)
      found[row] += part[0] * value(pins[3 * i], sample) + part[1] * value(pins[3 * i + 1], sample);
  }
}

/// Moves a pose by turns back to the edge of the hole of each pin that is outside, and beyond (relaxed
/// projections): where the pins leave a set of poses, however thin, this leads into it. True when it does.
HAFTWRIGHT_LANES bool move_in(const SampledClearance& clearance, const Strip* pins, int sample,
                              float pose[3]) {
  for (int sweep = 0; sweep < move_in_sweeps; ++sweep) {
    bool inside = true;
    const Strip* hole = pins;
    for (const SampledPin& pin : clearance.pins) {
      const Place place = place_at(pin, hole, sample, pose);
      const float radius = value(hole[2], sample);
      if (radius < 0) return false;
      const float squares = place.along * place.along + place.square * place.square;
      if (squares > radius * radius) {
        inside = false;
        const float back = 1.6f * (radius / __builtin_sqrtf(squares) - 1.0f);
        for (int row = 0; row < 3; ++row)
          pose[row] += back * (pin.move[row][0] * place.along + pin.move[row][1] * place.square);
      }
      hole += 3;
    }
    if (inside) return true;
  }
  return false;
}

/// Three even numbers a lane: those of eight tries of one sample, or of one try of eight samples.
struct Tries {
  F8 even[3];
};

HAFTWRIGHT_LANES Words try_counter(const SampledClearance& clearance, std::uint64_t sample, unsigned round) {
  return {{all(static_cast<std::uint32_t>(sample)), all(static_cast<std::uint32_t>(sample >> 32)),
           all(round * lanes) + U8{0, 1, 2, 3, 4, 5, 6, 7}, all(clearance.stream)}};
}

HAFTWRIGHT_LANES Tries tries_of(const Words& words) {
  return {{even_in_one(words.word[0]), even_in_one(words.word[1]), even_in_one(words.word[2])}};
}

enum class Found { none, even, some };

/// A pose taken evenly from those that the pins leave, or where tries miss them, some pose of theirs.
HAFTWRIGHT_LANES Found sample_pose(const SampledStack& stack, const SampledClearance& clearance,
                                   const Strip* pins, const Boxes& boxes, std::uint64_t number, int sample,
                                   float found[3]) {
  float middle[3], half[3];
  for (int i = 0; i < 3; ++i) {
    middle[i] = value(boxes.middle[i], sample);
    half[i] = value(boxes.half[i], sample);
  }
  for (unsigned round = 0; half[0] >= 0 && round < try_rounds; ++round) {
    Words words[1] = {try_counter(clearance, number, round)};
    philox(words, stack.seed);
    const Tries tries = tries_of(words[0]);
    F8 pose[3];
    for (int i = 0; i < 3; ++i) pose[i] = middle[i] + half[i] * tries.even[i];
    const unsigned fits = which_fit(clearance, pins, sample, pose);
    if (fits != 0) {
      const int first = __builtin_ctz(fits);
      for (int i = 0; i < 3; ++i) found[i] = pose[i][first];
      return Found::even;
    }
  }
  nearest_pose(clearance, pins, sample, found);
  float moved[3] = {found[0], found[1], found[2]};
  if (half[0] < 0 || !move_in(clearance, pins, sample, moved)) return Found::none;
  for (int i = 0; i < 3; ++i) found[i] = moved[i];
  return Found::some;
}

/// Which of eight samples, each with a pose of its own, have every pin in its hole.
HAFTWRIGHT_LANES I8 fit_in(const SampledClearance& clearance, const Strip* hole, int k, const F8 pose[3]) {
  const F8 across = pose[2] - pose[1];
  I8 fits = ~I8{};  // in every lane
  for (const SampledPin& pin : clearance.pins) {
    const F8 x = pose[0] - pin.aside * across + hole[0].at[k];
    const F8 y = pose[1] + pin.share * across + hole[1].at[k];
    fits &= (x * x + y * y <= hole[2].at[k] * hole[2].at[k]) & (hole[2].at[k] >= 0.0f);
    hole += 3;
  }
  return fits;
}

/// Whether each sample has a pose at all: as a rule the one that brings the holes nearest to their pins.
/// Those that have none by the box, or do not go in elsewhere, need no search.
HAFTWRIGHT_LANES void find_fit(const SampledClearance& clearance, StripRoom& room) {
  Boxes boxes;
  box_poses(clearance, room.pins, boxes);
  for (int k = 0; k < strip_lanes; ++k) {
    F8 pose[3];
    const float* part = clearance.nearest;
    for (F8& coordinate : pose) {
      coordinate = all(0.0f);
      for (std::uint32_t i = 0; i < clearance.pins.count; ++i, part += 2)
        coordinate += part[0] * room.pins[3 * i].at[k] + part[1] * room.pins[3 * i + 1].at[k];
    }
    const I8 fits = fit_in(clearance, room.pins, k, pose);
    const unsigned empty = bits_of(boxes.half[0].at[k] < 0.0f);
    room.no_fit |= std::uint64_t{empty} << (k * lanes);
    const unsigned bits = bits_of(fits) | static_cast<unsigned>(room.no_fit >> (k * lanes) & 0xffu);
    for (int i = 0; i < lanes; ++i) {
      if ((bits >> i & 1u) != 0) continue;
      float moved[3] = {pose[0][i], pose[1][i], pose[2][i]};
      if (!move_in(clearance, room.pins, k * lanes + i, moved))
        room.no_fit |= std::uint64_t{1} << (k * lanes + i);
    }
  }
}

/// Pins that do not go into some hole wherever the bodies are.
HAFTWRIGHT_LANES void check_rooms(const SampledClearance& clearance, StripRoom& room) {
  for (const SampledRoom& hole : clearance.rooms) {
    Strip left;
    fill(left, hole.room);
    add_sensitivities(hole.sensitivities, room.variables, left);
    for (int k = 0; k < strip_lanes; ++k)
      room.no_fit |= std::uint64_t{bits_of(left.at[k] < 0.0f)} << (k * lanes);
  }
}

/// The first tries of every sample, eight samples at a time; the answer has a bit for each that one of them
/// fits. About half of all tries do, so that this settles most samples at half the work.
HAFTWRIGHT_LANES std::uint64_t first_tries(const SampledStack& stack, const SampledClearance& clearance,
                                           std::uint64_t first_sample, const Strip* pins, const Boxes& boxes,
                                           Strip pose[3]) {
  const U8 sample_high = all(static_cast<std::uint32_t>(first_sample >> 32));
  std::uint64_t settled = 0;
  for (int k = 0; k < strip_lanes; ++k) {
    I8 open = boxes.half[0].at[k] >= 0.0f;
    for (std::uint32_t number = 0; number < first_try_rounds && bits_of(open) != 0; number += 2) {
      Words words[2] = {
          {{sample_numbers(first_sample, k), sample_high, all(number), all(clearance.stream)}},
          {{sample_numbers(first_sample, k), sample_high, all(number + 1), all(clearance.stream)}}};
      philox(words, stack.seed);
#pragma GCC unroll 2
      for (const Words& drawn : words) {
        const Tries tries = tries_of(drawn);
        F8 tried[3];
        for (int c = 0; c < 3; ++c) tried[c] = boxes.middle[c].at[k] + boxes.half[c].at[k] * tries.even[c];
        const I8 fits = fit_in(clearance, pins, k, tried) & open;
        for (int c = 0; c < 3; ++c) pose[c].at[k] = fits ? tried[c] : pose[c].at[k];
        settled |= std::uint64_t{bits_of(fits)} << (k * lanes);
        open &= ~fits;
      }
    }
  }
  return settled;
}

/// Poses of one strip that the pins leave; the answer has a bit for each that was taken evenly.
HAFTWRIGHT_LANES std::uint64_t sample_poses(const SampledStack& stack, const SampledClearance& clearance,
                                            std::uint64_t first_sample, StripRoom& room, Strip pose[3]) {
  Boxes boxes;
  box_poses(clearance, room.pins, boxes);
  std::uint64_t even = first_tries(stack, clearance, first_sample, room.pins, boxes, pose);
  for (int i = 0; i < strip_samples; ++i) {
    if ((even >> i & 1u) != 0) continue;
    float found[3];
    const Found how =
        sample_pose(stack, clearance, room.pins, boxes, first_sample + static_cast<unsigned>(i), i, found);
    room.no_fit |= std::uint64_t{how == Found::none} << i;
    even |= std::uint64_t{how == Found::even} << i;
    for (int c = 0; c < 3; ++c) pose[c].at[i / lanes][i % lanes] = found[c];
  }
  return even;
}

HAFTWRIGHT_LANES void sample_clearance(const SampledStack& stack, const SampledClearance& clearance,
                                       std::uint64_t first_sample, StripRoom& room) {
  check_rooms(clearance, room);
  Strip pose[3];
  for (Strip& coordinate : pose) fill(coordinate, 0);
  if (clearance.hold == SampledClearance::Hold::none) {
    add_sensitivities(clearance.free_along, room.variables, pose[0]);
    add_sensitivities(clearance.free_across, room.variables, pose[1]);
  } else {
    place_pins(clearance, room.variables, room.pins);
    if (clearance.only_fit) {
      find_fit(clearance, room);
      return;
    }
    const std::uint64_t even = sample_poses(stack, clearance, first_sample, room, pose);
    if (stack.crept) creep(stack, clearance, first_sample, even, room.pins, pose);
  }
  if (clearance.hold != SampledClearance::Hold::held) {
    fill(pose[2], 0);
    add_sensitivities(clearance.free_turn, room.variables, pose[2]);
  }
  const float* effect = clearance.effects;
  for (std::uint32_t m = 0; m < stack.measures.count; ++m, effect += 3)
    for (int k = 0; k < strip_lanes; ++k)
      room.added[m].at[k] +=
          effect[0] * pose[0].at[k] + effect[1] * pose[1].at[k] + effect[2] * pose[2].at[k];
}

void sample_strip(const SampledStack& stack, std::uint64_t first_sample, StripRoom& room) {
  room.no_fit = 0;
  sample_variables(stack, first_sample, room.variables);
  Strip* added = room.added;
  for (const SampledMeasure& measure : stack.measures) {
    fill(*added, 0);
    add_sensitivities(measure.sensitivities, room.variables, *added);
    ++added;
  }
  for (const SampledClearance& clearance : stack.clearances)
    sample_clearance(stack, clearance, first_sample, room);
  bool any = false;
  Strip& greatest_step = *added;
  added = room.added;
  for (const SampledMeasure& measure : stack.measures) {
    if (measure.is_step) {
      for (int k = 0; k < strip_lanes; ++k) {
        const F8 size =
            greatest(measure.above_greatest + added->at[k], measure.below_greatest - added->at[k]);
        greatest_step.at[k] = any ? greatest(greatest_step.at[k], size) : size;
      }
      any = true;
    }
    ++added;
  }
  if (!any) fill(greatest_step, 0);
}

}  // namespace
}  // namespace haftwright::tolerance
