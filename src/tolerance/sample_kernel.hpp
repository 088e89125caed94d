// What a kernel needs of a stack, and what it counts. Plain numbers only: see sample_lanes.hpp.
#pragma once

#include <cstdint>

namespace haftwright::tolerance {

/// Lanes that one instruction works on where the machine has such instructions.
constexpr int lanes = 8;
typedef float F8 __attribute__((vector_size(32)));

/// Samples worked out together: one value a sample, eight lanes at a time.
constexpr int strip_samples = 64;
constexpr int strip_lanes = strip_samples / lanes;
struct alignas(64) Strip {
  F8 at[strip_lanes];
};

template <class T>
struct List {
  const T* first = nullptr;
  std::uint32_t count = 0;
  const T* begin() const { return first; }
  const T* end() const { return first + count; }
};

struct SampledSensitivity {
  std::uint32_t variable = 0;
  float size = 0;
};

/// Four variables that one set of random words serves.
struct SampledFour {
  std::uint32_t first = 0;  ///< variables first .. first + 3
  bool normal[4] = {};
  bool used[4] = {};
};

/// A bound of a pin in the clearance's own axes. The pose is (p, alpha, beta): how far the two outermost
/// pins, a and b, move along the line between them (both the same) and square to it. A pin moves by (p -
/// aside (beta
/// - alpha), alpha + share (beta - alpha)).
struct SampledPin {
  float share = 0;        ///< of the way from a to b
  float aside = 0;        ///< distance from the line through a and b, over that from a to b
  float radius = 0;       ///< nominal
  float move[3][2] = {};  ///< the least change of (p, alpha, beta) that moves the pin by one along, or square
  List<SampledSensitivity> offset_along;
  List<SampledSensitivity> offset_square;
  List<SampledSensitivity> radius_sensitivities;
  bool at_a = false;  ///< on the spot of pin a
  bool at_b = false;
};

/// A pin does not go in where this is below zero.
struct SampledRoom {
  float room = 0;
  List<SampledSensitivity> sensitivities;
};

struct SampledClearance {
  enum class Hold { none, one_spot, held };
  Hold hold = Hold::none;
  std::uint32_t stream = 1;  ///< its own random numbers
  bool only_fit = false;     ///< it changes no measure: whether there is a pose is all that is asked
  List<SampledPin> pins;
  List<SampledRoom> rooms;
  List<SampledSensitivity> free_along;
  List<SampledSensitivity> free_across;
  List<SampledSensitivity> free_turn;
  /// Three numbers a measure: what each of the pose's coordinates does to it. Held: (p, alpha, beta);
  /// one spot: (along x, along y, turn about the spot); none: (along, across, turn about `about_mm`).
  const float* effects = nullptr;
  /// Three rows of two numbers a pin: the pose that brings the holes nearest to their pins (least squares).
  const float* nearest = nullptr;
};

struct SampledMeasure {
  List<SampledSensitivity> sensitivities;
  float shows_above = 0;  ///< of what is added to the nominal value: more than this shows
  float shows_below = 0;  ///< less than this shows
  bool is_step = false;
  float above_greatest = 0;  ///< nominal minus the greatest |nominal| of the steps
  float below_greatest = 0;  ///< -nominal minus the same
};

struct SampledStack {
  std::uint64_t seed = 0;
  std::uint32_t variables = 0;
  List<SampledFour> fours;
  List<SampledMeasure> measures;
  List<SampledClearance> clearances;
  bool crept = false;
};

/// What one strip comes to, and room to work it out in.
struct StripRoom {
  Strip* variables = nullptr;  ///< one a variable
  /// What is added to each measure's nominal value; after them what is added to the greatest |nominal| of the
  /// steps to give the greatest |step|.
  Strip* added = nullptr;
  Strip* pins = nullptr;     ///< three a pin of the clearance that has most
  std::uint64_t no_fit = 0;  ///< a bit a sample
};

/// Bins of what is added to one measure's nominal value. The first and last are open.
constexpr int fine_bins = 2048;
struct FineBins {
  float from = 0;
  float in_one_mm = 0;
};

/// Of one measure, added up over samples by one thread.
struct Counts {
  std::uint32_t bins[fine_bins];
  std::uint64_t shows;
  float least;
  float greatest;
};

/// Of one measure over a fixed run of samples.
struct Sums {
  double sum = 0;
  double squares = 0;
};

struct Tally {
  const FineBins* fine = nullptr;  ///< one a measure, and one for the greatest step
  Counts* counts = nullptr;        ///< the same
  std::uint64_t any_shows = 0;
  std::uint64_t no_fit = 0;
};

struct SampleKernel {
  /// Works out samples first_sample .. first_sample + strip_samples - 1.
  void (*sample_strip)(const SampledStack& stack, std::uint64_t first_sample, StripRoom& room);
  /// Counts the first `samples` of the strip.
  void (*count_strip)(const SampledStack& stack, const StripRoom& room, int samples, Tally& tally,
                      Sums* sums);
};

/// All kernels give the same bits.
extern const SampleKernel plain_kernel;
/// Null where the program was not built for it or the machine has no such instructions.
const SampleKernel* avx2_kernel();

}  // namespace haftwright::tolerance
