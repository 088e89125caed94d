// Draws of a whole error chain: how the steps are spread over many handles made the same way.
//
// Counter-based random numbers (each number is a function of seed, draw and variable) and counts that add up
// to the same whatever the order: a seed gives the same bits for any number of threads.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <stdexcept>
#include <stop_token>
#include <vector>

#include "haftwright/alignment/chain.hpp"

namespace haftwright {

struct DrawSettings {
  std::uint64_t draws = 100'000;  ///< 1 to 4294967295
  std::uint64_t seed = 1;
  unsigned threads = 0;  ///< 0: as many as the machine has; where fewer can be started, those
  double confidence = 0.95;
  /// Called every few thousand draws, on the thread that called draw(), with how many there are so far.
  std::function<void(std::uint64_t drawn)> progress = {};
  /// When stop is requested, draw() throws DrawsStopped within a few thousand draws.
  std::stop_token stop = {};
};

/// Thrown by draw() when DrawSettings::stop is requested before the last draw.
class DrawsStopped : public std::runtime_error {
 public:
  DrawsStopped() : std::runtime_error("drawing was stopped before its end") {}
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
  /// Some play has no pose, or some hole no room for its pin: a pin does not go in without opening a hole.
  /// Such a handle takes the pose that brings the holes nearest to their pins (least squares). Where the pins
  /// leave so thin a set of poses that 64 tries miss it, one of its poses is sought instead; the few sets
  /// missed even so (under 1 in 100 where holes are as far off as their pins have room) count here too.
  Chance no_fit;
  double any_size_95 = 0;  ///< 95 of 100 handles have no step (mm measures) greater than this
};

/// Throws std::invalid_argument when a term names a variable that is not there, a play has not one effect a
/// measure, a number is not finite or above 1e6, or `settings` are out of range; DrawsStopped. The same bits
/// on any machine.
Draws draw(const Chain& chain, const DrawSettings& settings);

/// By how much pins are too thick for their holes. All pins are taken to be thinner (or all holes wider,
/// which does the same) by one amount; each handle has a least amount with which its pins go in.
struct Binding {
  double limit = 0;       ///< the share of handles that may bind
  double typical_mm = 0;  ///< of the handles that bind now, half need more than this; 0 where none binds
  /// With all pins' diameters less by this, at most `limit` of the handles bind; 0 where no more do now. Up
  /// to 0.001 mm too much. No value when 10 mm would not do.
  std::optional<double> thinner_mm;
};
/// The share of handles that may bind where the shop has set no other.
inline constexpr double kMayBind = 0.05;
/// Draws the same handles, 20,000 at most, again with thinner and thinner pins; throws as draw() does, and
/// std::invalid_argument when `limit` is not from 0 to 1. `settings.progress` is not called.
Binding binding_of(const Chain& chain, const DrawSettings& settings, double limit = kMayBind);

/// Chain with every variable of `source` held at zero; the others are drawn the same as before.
Chain without_source(const Chain& chain, std::size_t source);

/// What one source has to do with a measure's variance, as shares of it.
struct VarianceShare {
  double alone = 0;  ///< first order: by how much the variance would fall, on average, were this one known
  double total = 0;  ///< total effect: how much would be left, on average, were all others known
};
/// One a source, and last the play: where within their room the pins come to lie, a set of random numbers of
/// its own. Exact, and both the same, for what enters by linear terms alone; where a source changes the play,
/// drawn. What several do only together is in the total of each, so that `alone` sums to at most 1 and
/// `total` to at least 1, but for luck of the draw. All zero when nothing varies.
std::vector<VarianceShare> variance_shares(const Chain& chain, std::size_t measure,
                                           const DrawSettings& settings);

}  // namespace haftwright
