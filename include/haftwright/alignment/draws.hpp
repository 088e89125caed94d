// Draws of a whole error chain: how the steps are spread over many handles made the same way.
//
// Counter-based random numbers (each number is a function of seed, draw and variable) and counts that add up
// to the same whatever the order: a seed gives the same bits for any number of threads.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "haftwright/alignment/chain.hpp"

namespace haftwright {

struct DrawSettings {
  std::uint64_t draws = 100'000;  ///< 1 to 4294967295
  std::uint64_t seed = 1;
  unsigned threads = 0;  ///< 0: as many as the machine has
  double confidence = 0.95;
};

/// A share of handles, counted, with the interval that holds the true share at DrawSettings::confidence
/// (Wilson's score interval).
struct Chance {
  double share = 0;
  double low = 0;
  double high = 0;
};
Chance chance_of(std::uint64_t hits, std::uint64_t draws, double confidence);

/// How one measure is spread.
struct Distribution {
  double mean = 0;
  double deviation = 0;  ///< standard
  /// Quantiles come out of bins of 12/2048 of a standard deviation: off by less than 0.2 % of the spread.
  double low_95 = 0;  ///< 95 of 100 handles lie between these two (2.5 below, 2.5 above)
  double high_95 = 0;
  double size_95 = 0;  ///< 95 of 100 handles have |measure| of at most this
  Chance shows;        ///< |measure| > Measure::visible
  double bins_from = 0;
  double bin_width = 0;
  std::vector<std::uint64_t> bins;  ///< a histogram to draw
};

struct Draws {
  std::vector<Distribution> measures;
  Chance any_shows;  ///< at least one measure is over its limit
  /// Some play has no pose: a pin does not go in without opening a hole. Such a handle takes the pose that
  /// brings the holes nearest to their pins (least squares). Where the pins leave so thin a set of poses that
  /// 64 tries miss it, one of its poses is sought instead; the few sets missed even so (under 1 in 100 where
  /// holes are as far off as their pins have room) count here too.
  Chance no_fit;
  double any_size_95 = 0;  ///< 95 of 100 handles have no step (mm measures) greater than this
};

/// Throws std::invalid_argument when a term names a variable that is not there, a play has not one effect a
/// measure, a number is not finite or above 1e6, or `settings` are out of range. The same bits on any
/// machine.
Draws draw(const Chain& chain, const DrawSettings& settings);

/// Chain with every variable of `source` held at zero; the others are drawn the same as before.
Chain without_source(const Chain& chain, std::size_t source);

/// Share of each source in a measure's variance, summing to 1: for linear terms exactly. Where a play changes
/// the measure, a source that enters it counts with what the drawn variance falls by without it (never below
/// zero), the play itself (the last entry, beyond Chain::sources) with the variance it has with no other
/// error. All zero when nothing varies.
std::vector<double> variance_shares(const Chain& chain, std::size_t measure, const DrawSettings& settings);

}  // namespace haftwright
