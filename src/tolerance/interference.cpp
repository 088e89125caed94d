// How much thinner pins must be to go in: the share of handles that bind falls as all pins get thinner, and
// the same samples are made at each thickness, so that it falls without the luck of sampling.
#include <algorithm>
#include <stdexcept>

#include "haftwright/tolerance/sampling.hpp"

namespace haftwright {
namespace {

constexpr double kCloseEnoughMm = 0.001;
constexpr double kFirstTryMm = 0.05;
constexpr double kMostMm = 10;
/// A share of 5 in 100 is then known to 0.3 in 100.
constexpr std::uint64_t kMostSamples = 20'000;

class Thinner {
 public:
  Thinner(const ToleranceStack& stack, const SampleSettings& settings) : stack_(stack), settings_(settings) {
    settings_.progress = {};
    settings_.samples = std::min(settings_.samples, kMostSamples);
    stack_.measures.clear();
    for (PatternClearance& clearance : stack_.clearances) clearance.effects.clear();
  }

  double share_that_binds(double thinner_mm) const {
    ToleranceStack thinned = stack_;
    for (PatternClearance& clearance : thinned.clearances) {
      for (PinBound& pin : clearance.pins) pin.radius_mm += pin.radius_for_room * thinner_mm / 2;
      for (PinRoom& room : clearance.rooms) room.room_mm += thinner_mm / 2;
    }
    return sample(thinned, settings_).no_fit.share;
  }

  /// The least thinning with which at most `share` of the handles bind, from above.
  std::optional<double> for_share(double share) const {
    if (share_that_binds(0) <= share) return 0;
    double low = 0;
    double high = kFirstTryMm;
    while (share_that_binds(high) > share) {
      if (high >= kMostMm) return std::nullopt;
      low = high;
      high *= 2;
    }
    while (high - low > kCloseEnoughMm) {
      const double middle = (low + high) / 2;
      (share_that_binds(middle) > share ? low : high) = middle;
    }
    return high;
  }

 private:
  ToleranceStack stack_;
  SampleSettings settings_;
};

}  // namespace

Interference interference_of(const ToleranceStack& stack, const SampleSettings& settings, double limit) {
  if (!(limit >= 0 && limit <= 1)) throw std::invalid_argument("a share must be from 0 to 1");
  const Thinner thinner(stack, settings);
  const double now = thinner.share_that_binds(0);
  return {.limit = limit,
          .typical_mm = now > 0 ? thinner.for_share(now / 2).value_or(kMostMm) : 0,
          .thinner_mm = thinner.for_share(limit)};
}

}  // namespace haftwright
