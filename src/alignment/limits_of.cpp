// Worst case and root of the sum of squares of a measure.
#include <algorithm>
#include <cmath>
#include <map>

#include "chain_parts.hpp"
#include "reach.hpp"

namespace haftwright {

using namespace alignment;
namespace {

double sum_of(const Terms& terms) {
  double sum = 0;
  for (const Term& term : terms) sum += std::abs(term.mm_at_limit);
  return sum;
}

/// The bound with everything at its limit that gives it room; a variable that takes part in x and y moves the
/// hole both ways at once.
LoosePin loosest(const ChainPin& pin) {
  std::map<std::size_t, Vec2> off;
  for (const Term& term : pin.offset_x) off[term.variable].x += term.mm_at_limit;
  for (const Term& term : pin.offset_y) off[term.variable].y += term.mm_at_limit;
  LoosePin made{
      .at_mm = pin.at_mm,
      .radius_mm = std::max(0.0, pin.radius_mm + pin.opened_mm + sum_of(TermSum(pin.radius).terms()))};
  for (const auto& [variable, by] : off) made.off_mm.push_back(by);
  return made;
}

/// What the play adds to a measure at most; where pins do not hold the scale, what lining it up by eye
/// leaves.
double play_limit(const Play& play, std::size_t measure) {
  const PoseEffect& effect = play.effects[measure];
  if (play.use == Play::Use::draws || effect == PoseEffect{}) return 0;
  std::vector<LoosePin> pins;
  for (const ChainPin& pin : play.pins) pins.push_back(loosest(pin));
  const double held = farthest_mm(pins, effect);
  // One pin stays in its hole, so the scale turns about it, wherever the eye is. Terms are there only where
  // it does.
  const Vec2 about = play.pins.empty() ? play.about_mm : play.pins.front().at_mm;
  const double lever = effect.turn_mm - cross(about, effect.along);
  const double turned = std::abs(lever) * sum_of(play.free_turn);
  if (!play.pins.empty()) return on_one_spot(pins) ? held + turned : held;
  return turned + std::abs(effect.along.x) * sum_of(play.free_along) +
         std::abs(effect.along.y) * sum_of(play.free_across);
}

}  // namespace

Limits limits_of(const Chain& chain, std::size_t measure) {
  const Measure& of = chain.measures[measure];
  double sum = 0;
  double squares = 0;
  for (const Term& term : of.terms) {
    sum += std::abs(term.mm_at_limit);
    squares += term.mm_at_limit * term.mm_at_limit;
  }
  Limits limits;
  for (const Play& play : chain.plays) {
    const double most = play_limit(play, measure);
    limits.play += most;
    squares += most * most;
  }
  limits.worst = std::abs(of.nominal) + sum + limits.play;
  limits.rss = std::abs(of.nominal) + std::sqrt(squares);
  return limits;
}

}  // namespace haftwright
