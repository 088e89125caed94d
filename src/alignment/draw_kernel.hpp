// What a kernel needs of a chain, and what it counts. Plain numbers only: see draw_lanes.hpp.
#pragma once

#include <cstdint>

namespace haftwright::alignment {

/// Lanes that one instruction works on where the machine has such instructions.
constexpr int lanes = 8;
typedef float F8 __attribute__((vector_size(32)));

/// Draws worked out together: one value a draw, eight lanes at a time.
constexpr int strip_draws = 64;
constexpr int strip_lanes = strip_draws / lanes;
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

struct DrawnTerm {
  std::uint32_t variable = 0;
  float size = 0;
};

/// Four variables that one set of random words serves.
struct DrawnFour {
  std::uint32_t first = 0;  ///< variables first .. first + 3
  bool normal[4] = {};
  bool used[4] = {};
};

/// A bound of a pin in the play's own axes. The pose is (p, alpha, beta): how far the two outermost pins, a
/// and b, move along the line between them (both the same) and square to it. A pin moves by (p - aside (beta
/// - alpha), alpha + share (beta - alpha)).
struct DrawnPin {
  float share = 0;        ///< of the way from a to b
  float aside = 0;        ///< distance from the line through a and b, over that from a to b
  float radius = 0;       ///< nominal
  float move[3][2] = {};  ///< the least change of (p, alpha, beta) that moves the pin by one along, or square
  List<DrawnTerm> offset_along;
  List<DrawnTerm> offset_square;
  List<DrawnTerm> radius_terms;
  bool at_a = false;  ///< on the spot of pin a
  bool at_b = false;
};

/// A pin does not go in where this is below zero.
struct DrawnRoom {
  float room = 0;
  List<DrawnTerm> terms;
};

struct DrawnPlay {
  enum class Hold { none, one_spot, held };
  Hold hold = Hold::none;
  std::uint32_t stream = 1;  ///< its own random numbers
  bool only_fit = false;     ///< it changes no measure: whether there is a pose is all that is asked
  List<DrawnPin> pins;
  List<DrawnRoom> rooms;
  List<DrawnTerm> free_along;
  List<DrawnTerm> free_across;
  List<DrawnTerm> free_turn;
  /// Three numbers a measure: what each of the pose's coordinates does to it. Held: (p, alpha, beta);
  /// one spot: (along x, along y, turn about the spot); none: (along, across, turn about `about_mm`).
  const float* effects = nullptr;
  /// Three rows of two numbers a pin: the pose that brings the holes nearest to their pins (least squares).
  const float* nearest = nullptr;
};

struct DrawnMeasure {
  List<DrawnTerm> terms;
  float shows_above = 0;  ///< of what is added to the nominal value: more than this shows
  float shows_below = 0;  ///< less than this shows
  bool is_step = false;
  float above_greatest = 0;  ///< nominal minus the greatest |nominal| of the steps
  float below_greatest = 0;  ///< -nominal minus the same
};

struct DrawnChain {
  std::uint64_t seed = 0;
  std::uint32_t variables = 0;
  List<DrawnFour> fours;
  List<DrawnMeasure> measures;
  List<DrawnPlay> plays;
  bool crept = false;
};

/// What one strip comes to, and room to work it out in.
struct StripRoom {
  Strip* variables = nullptr;  ///< one a variable
  /// What is added to each measure's nominal value; after them what is added to the greatest |nominal| of the
  /// steps to give the greatest |step|.
  Strip* added = nullptr;
  Strip* pins = nullptr;     ///< three a pin of the play that has most
  std::uint64_t no_fit = 0;  ///< a bit a draw
};

/// Bins of what is added to one measure's nominal value. The first and last are open.
constexpr int fine_bins = 2048;
struct FineBins {
  float from = 0;
  float in_one_mm = 0;
};

/// Of one measure, added up over draws by one thread.
struct Counts {
  std::uint32_t bins[fine_bins];
  std::uint64_t shows;
  float least;
  float greatest;
};

/// Of one measure over a fixed run of draws.
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

struct DrawKernel {
  /// Works out draws first_draw .. first_draw + strip_draws - 1.
  void (*draw_strip)(const DrawnChain& chain, std::uint64_t first_draw, StripRoom& room);
  /// Counts the first `draws` of the strip.
  void (*count_strip)(const DrawnChain& chain, const StripRoom& room, int draws, Tally& tally, Sums* sums);
};

/// All kernels give the same bits.
extern const DrawKernel plain_kernel;
/// Null where the program was not built for it or the machine has no such instructions.
const DrawKernel* avx2_kernel();

}  // namespace haftwright::alignment
