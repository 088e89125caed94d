// Two parts weighed on a scale that shows whole steps only: which batch keeps the ratio best, and what would
// keep it better.
#pragma once

#include <optional>

namespace haftwright {

/// What is to be weighed and on what.
struct Mixing {
  double needed_g = 0;            ///< more than 0; no batch weighs less
  double hardener_per_resin = 0;  ///< wanted, by weight; more than 0
  double scale_step_g = 0;        ///< more than 0; both parts are whole steps of it, at least one each
  double extra_share = 0;         ///< how much more than needed may be mixed for the sake of the ratio
};

struct Batch {
  double resin_g = 0;
  double hardener_g = 0;
  double ratio_error_share = 0;  ///< weighed ratio over wanted ratio, less 1; below 0 the hardener is short
};

/// Of all batches from needed_g up to extra_share more (at most a thousand steps more: there a step no longer
/// moves the ratio by anything that matters), the one whose ratio is off least, either way. Of equals the
/// smaller batch, then the one with more resin. Where no batch of two steps is that small: the smallest that
/// there is.
Batch best_batch(const Mixing& mixing);

/// The smallest batch of at least needed_g, its larger part the wanted one rounded up or down, that is off by
/// no more than `most_error_share`; none where only thousands of steps would do.
std::optional<Batch> batch_within(const Mixing& mixing, double most_error_share);

/// The coarsest usual scale step (1, 2 or 5 times a power of ten, at least 0.001 g) finer than the one given
/// with which best_batch is off by no more than `most_error_share`; none where no such step will do.
std::optional<double> scale_step_within(Mixing mixing, double most_error_share);

/// How many decimals it takes to write whole steps of such a scale, at most 3.
int decimals_of_step(double scale_step_g);

}  // namespace haftwright
