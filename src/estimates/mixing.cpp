#include "haftwright/estimates/mixing.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright {
namespace {

/// A count of scale steps this little off a whole number is that number.
constexpr double kRounding = 1e-9;
/// Two errors that differ by less are the same one computed twice.
constexpr double kSameError = 1e-12;
constexpr double kMostExtraSteps = 1000;
constexpr double kMostParts = 2000;
constexpr double kFinestStepG = 0.001;
constexpr int kMostDecimals = 3;

double error_of(double resin_steps, double hardener_steps, double ratio) {
  return hardener_steps / resin_steps / ratio - 1;
}

double least_steps(const Mixing& mixing) {
  const double steps = mixing.needed_g / mixing.scale_step_g;
  return std::max(2.0, std::ceil(steps - kRounding * std::max(1.0, steps)));
}

/// Takes batches in the order of preference and keeps the best.
class Search {
 public:
  explicit Search(const Mixing& mixing) : mixing_(mixing) {}

  /// Both ways to part a total that can be best: the wanted resin rounded up and rounded down.
  void try_total(double steps) {
    const double resin = std::floor(steps / (1 + mixing_.hardener_per_resin));
    try_batch(std::clamp(resin + 1, 1.0, steps - 1), steps);
    try_batch(std::clamp(resin, 1.0, steps - 1), steps);
  }

  Batch best() const { return best_; }

 private:
  void try_batch(double resin_steps, double steps) {
    const double hardener_steps = steps - resin_steps;
    const double error = error_of(resin_steps, hardener_steps, mixing_.hardener_per_resin);
    if (found_ && std::abs(error) > std::abs(best_.ratio_error_share) - kSameError) return;
    found_ = true;
    best_ = {resin_steps * mixing_.scale_step_g, hardener_steps * mixing_.scale_step_g, error};
  }

  const Mixing& mixing_;
  Batch best_;
  bool found_ = false;
};

}  // namespace

Batch best_batch(const Mixing& mixing) {
  const double least = least_steps(mixing);
  const double wanted_most = mixing.needed_g * (1 + mixing.extra_share) / mixing.scale_step_g;
  const double most = std::clamp(std::floor(wanted_most + kRounding * std::max(1.0, wanted_most)), least,
                                 least + kMostExtraSteps);
  Search search(mixing);
  for (double steps = least; steps <= most; ++steps) search.try_total(steps);
  return search.best();
}

std::optional<Batch> batch_within(const Mixing& mixing, double most_error_share) {
  // Totals grow with the lesser part, and for each of its counts with the larger one, so the first is
  // smallest.
  const double least = least_steps(mixing);
  const double ratio = mixing.hardener_per_resin;
  const double larger_per_lesser = std::max(ratio, 1 / ratio);
  const double first = std::max(1.0, std::floor(least / (1 + larger_per_lesser)) - 1);
  for (double lesser = first; lesser <= first + kMostParts; ++lesser) {
    const double larger = std::floor(lesser * larger_per_lesser);
    for (const double other : {larger, larger + 1}) {
      if (other < 1 || lesser + other < least) continue;
      const double resin = ratio < 1 ? other : lesser;
      const double hardener = ratio < 1 ? lesser : other;
      const double error = error_of(resin, hardener, ratio);
      if (std::abs(error) <= most_error_share)
        return Batch{resin * mixing.scale_step_g, hardener * mixing.scale_step_g, error};
    }
  }
  return std::nullopt;
}

std::optional<double> scale_step_within(Mixing mixing, double most_error_share) {
  const double given = mixing.scale_step_g;
  for (double decade = std::pow(10, std::floor(std::log10(given))); decade >= kFinestStepG * (1 - kRounding);
       decade /= 10)
    for (const double digit : {5.0, 2.0, 1.0}) {
      mixing.scale_step_g = digit * decade;
      if (mixing.scale_step_g >= given * (1 - kRounding)) continue;
      if (std::abs(best_batch(mixing).ratio_error_share) <= most_error_share) return mixing.scale_step_g;
    }
  return std::nullopt;
}

int decimals_of_step(double scale_step_g) {
  double scaled = scale_step_g;
  for (int decimals = 0; decimals < kMostDecimals; ++decimals, scaled *= 10)
    if (std::abs(scaled - std::round(scaled)) <= kRounding * scaled) return decimals;
  return kMostDecimals;
}

}  // namespace haftwright
