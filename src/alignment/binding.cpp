// How much thinner pins must be to go in: the share of handles that bind falls as all pins get thinner, and
// the same draws are made at each thickness, so that it falls without luck of the draw.
#include <algorithm>
#include <stdexcept>

#include "haftwright/alignment/draws.hpp"

namespace haftwright {
namespace {

constexpr double kCloseEnoughMm = 0.001;
constexpr double kFirstTryMm = 0.05;
constexpr double kMostMm = 10;
/// A share of 5 in 100 is then known to 0.3 in 100.
constexpr std::uint64_t kMostDraws = 20'000;

class Thinner {
 public:
  Thinner(const Chain& chain, const DrawSettings& settings) : chain_(chain), settings_(settings) {
    settings_.progress = {};
    settings_.draws = std::min(settings_.draws, kMostDraws);
    chain_.measures.clear();
    for (Play& play : chain_.plays) play.effects.clear();
  }

  double share_that_binds(double thinner_mm) const {
    Chain thinned = chain_;
    for (Play& play : thinned.plays) {
      for (ChainPin& pin : play.pins) pin.radius_mm += pin.radius_for_room * thinner_mm / 2;
      for (PinRoom& room : play.rooms) room.room_mm += thinner_mm / 2;
    }
    return draw(thinned, settings_).no_fit.share;
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
  Chain chain_;
  DrawSettings settings_;
};

}  // namespace

Binding binding_of(const Chain& chain, const DrawSettings& settings, double limit) {
  if (!(limit >= 0 && limit <= 1)) throw std::invalid_argument("a share must be from 0 to 1");
  const Thinner thinner(chain, settings);
  const double now = thinner.share_that_binds(0);
  return {.limit = limit,
          .typical_mm = now > 0 ? thinner.for_share(now / 2).value_or(kMostMm) : 0,
          .thinner_mm = thinner.for_share(limit)};
}

}  // namespace haftwright
