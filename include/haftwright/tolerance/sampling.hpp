// Samples of a whole error stack: how the steps are spread over many handles made the same way.
//
// Counter-based random numbers (each number is a function of seed, sample and variable) and counts that add
// up to the same whatever the order: a seed gives the same bits for any number of threads.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <stdexcept>
#include <stop_token>
#include <vector>

#include "haftwright/tolerance/stack.hpp"

namespace haftwright {

struct SampleSettings {
  std::uint64_t samples = 100'000;  ///< 1 to 4294967295
  std::uint64_t seed = 1;
  unsigned threads = 0;  ///< 0: as many as the machine has; where fewer can be started, those
  double confidence = 0.95;
  /// Called every few thousand samples, on the thread that called sample(), with how many there are so far.
  std::function<void(std::uint64_t sampled)> progress = {};
  /// When stop is requested, sample() throws SamplingStopped within a few thousand samples.
  std::stop_token stop = {};
};

/// Thrown by sample() when SampleSettings::stop is requested before the last sample.
class SamplingStopped : public std::runtime_error {
 public:
  SamplingStopped() : std::runtime_error("sampling was stopped before its end") {}
};

/// A share of handles, counted, with the interval that holds the true share at SampleSettings::confidence
/// (Wilson's score interval).
struct Chance {
  double share = 0;
  double low = 0;
  double high = 0;
};
Chance chance_of(std::uint64_t hits, std::uint64_t samples, double confidence);

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
  std::vector<std::uint64_t> bins;  ///< a histogram to plot
};

struct Samples {
  std::vector<Distribution> measures;
  Chance any_shows;  ///< at least one measure is over its limit
  /// Some clearance has no pose, or some hole no room for its pin: a pin does not go in without opening a
  /// hole. Such a handle takes the pose that brings the holes nearest to their pins (least squares). Where
  /// the pins leave so thin a set of poses that 64 tries miss it, one of its poses is sought instead; the few
  /// sets missed even so (under 1 in 100 where holes are as far off as their pins have room) count here too.
  Chance no_fit;
  double any_size_95 = 0;  ///< 95 of 100 handles have no step (mm measures) greater than this
};

/// Throws std::invalid_argument when a sensitivity names a variable that is not there, a clearance has not
/// one effect a measure, a number is not finite or above 1e6, or `settings` are out of range;
/// SamplingStopped. The same bits on any machine.
Samples sample(const ToleranceStack& stack, const SampleSettings& settings);

/// By how much pins are too thick for their holes. All pins are taken to be thinner (or all holes wider,
/// which does the same) by one amount; each handle has a least amount with which its pins go in.
struct Interference {
  double limit = 0;       ///< the share of handles that may bind
  double typical_mm = 0;  ///< of the handles that bind now, half need more than this; 0 where none binds
  /// With all pins' diameters less by this, at most `limit` of the handles bind; 0 where no more do now. Up
  /// to 0.001 mm too much. No value when 10 mm would not do.
  std::optional<double> thinner_mm;
};
/// The share of handles that may bind where the shop has set no other.
inline constexpr double kMayInterfere = 0.05;
/// Samples the same handles, 20,000 at most, again with thinner and thinner pins; throws as sample() does,
/// and std::invalid_argument when `limit` is not from 0 to 1. `settings.progress` is not called.
Interference interference_of(const ToleranceStack& stack, const SampleSettings& settings,
                             double limit = kMayInterfere);

/// ToleranceStack with every variable of `contributor` held at zero; the others are sampled the same as
/// before.
ToleranceStack without_contributor(const ToleranceStack& stack, std::size_t contributor);

/// What one contributor has to do with a measure's variance, as shares of it.
struct VarianceShare {
  double alone = 0;  ///< first order: by how much the variance would fall, on average, were this one known
  double total = 0;  ///< total effect: how much would be left, on average, were all others known
};
/// One a contributor, and last the clearance: where within their room the pins come to lie, a set of random
/// numbers of its own. Exact, and both the same, for what enters by linear sensitivities alone; where a
/// contributor changes the clearance, sampled. What several do only together is in the total of each, so that
/// `alone` sums to at most 1 and `total` to at least 1, but for the luck of sampling. All zero when nothing
/// varies.
std::vector<VarianceShare> variance_shares(const ToleranceStack& stack, std::size_t measure,
                                           const SampleSettings& settings);

}  // namespace haftwright
