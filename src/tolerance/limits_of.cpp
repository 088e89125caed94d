// Worst case and root of the sum of squares of a measure.
#include <algorithm>
#include <cmath>
#include <map>

#include "haftwright/tolerance/stack.hpp"
#include "reach.hpp"

namespace haftwright {

using namespace tolerance;
namespace {

double sum_of(const Sensitivities& sensitivities) {
  double sum = 0;
  for (const Sensitivity& sensitivity : sensitivities) sum += std::abs(sensitivity.mm_at_limit);
  return sum;
}

/// The bound with everything at its limit that gives it room; a variable that takes part in x and y moves the
/// hole both ways at once.
LoosePin loosest(const PinBound& pin) {
  std::map<std::size_t, Vec2> off;
  for (const Sensitivity& sensitivity : pin.offset_x) off[sensitivity.variable].x += sensitivity.mm_at_limit;
  for (const Sensitivity& sensitivity : pin.offset_y) off[sensitivity.variable].y += sensitivity.mm_at_limit;
  LoosePin made{.at_mm = pin.at_mm,
                .radius_mm = std::max(
                    0.0, pin.radius_mm + pin.opened_mm + sum_of(SensitivitySum(pin.radius).sensitivities()))};
  for (const auto& [variable, by] : off) made.off_mm.push_back(by);
  return made;
}

/// What the clearance adds to a measure at most; where pins do not hold the scale, what lining it up by eye
/// leaves.
double clearance_limit(const PatternClearance& clearance, std::size_t measure) {
  const PoseEffect& effect = clearance.effects[measure];
  if (clearance.use == PatternClearance::Use::samples || effect == PoseEffect{}) return 0;
  std::vector<LoosePin> pins;
  for (const PinBound& pin : clearance.pins) pins.push_back(loosest(pin));
  const double held = farthest_mm(pins, effect);
  // One pin stays in its hole, so the scale turns about it, wherever the eye is. Sensitivities are there only
  // where it does.
  const Vec2 about = clearance.pins.empty() ? clearance.about_mm : clearance.pins.front().at_mm;
  const double lever = effect.turn_mm - cross(about, effect.along);
  const double turned = std::abs(lever) * sum_of(clearance.free_turn);
  if (!clearance.pins.empty()) return on_one_spot(pins) ? held + turned : held;
  return turned + std::abs(effect.along.x) * sum_of(clearance.free_along) +
         std::abs(effect.along.y) * sum_of(clearance.free_across);
}

}  // namespace

Limits limits_of(const ToleranceStack& stack, std::size_t measure) {
  const Measure& of = stack.measures[measure];
  double sum = 0;
  double squares = 0;
  for (const Sensitivity& sensitivity : of.sensitivities) {
    sum += std::abs(sensitivity.mm_at_limit);
    squares += sensitivity.mm_at_limit * sensitivity.mm_at_limit;
  }
  Limits limits;
  for (const PatternClearance& clearance : stack.clearances) {
    const double most = clearance_limit(clearance, measure);
    limits.clearance += most;
    squares += most * most;
  }
  limits.worst = std::abs(of.nominal) + sum + limits.clearance;
  limits.rss = std::abs(of.nominal) + std::sqrt(squares);
  return limits;
}

}  // namespace haftwright
