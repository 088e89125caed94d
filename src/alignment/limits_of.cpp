// Worst case and root of the sum of squares of a measure.
#include <algorithm>
#include <cmath>

#include "haftwright/alignment/chain.hpp"

namespace haftwright {
namespace {

double sum_of(const Terms& terms) {
  double sum = 0;
  for (const Term& term : terms) sum += std::abs(term.mm_at_limit);
  return sum;
}

/// The pin with everything at its limit that gives it room. A hole that may be off by e in any direction lets
/// the pose go e farther, exactly. A pin that does not go in is taken as fitted tight: its hole was opened.
PinPlay loosest(const ChainPin& pin) {
  const double off = std::hypot(sum_of(pin.offset_x), sum_of(pin.offset_y));
  return {.at_mm = pin.at_mm, .radius_mm = std::max(0.0, pin.radius_mm + sum_of(pin.radius)) + off};
}

/// What the play adds to a measure at most; where pins do not hold the scale, what lining it up by eye
/// leaves.
double play_limit(const Play& play, std::size_t measure) {
  const PoseEffect& effect = play.effects[measure];
  std::vector<PinPlay> pins;
  for (const ChainPin& pin : play.pins) pins.push_back(loosest(pin));
  const FarthestPose farthest_pose = farthest(pins, effect);
  if (farthest_pose.kind == PlayKind::held) return farthest_pose.at_most_mm;
  // One pin stays in its hole, so the scale turns about it, wherever the eye is.
  const Vec2 about = play.pins.empty() ? play.about_mm : play.pins.front().at_mm;
  const double lever = effect.turn_mm - cross(about, effect.along);
  const double turned = std::abs(lever) * sum_of(play.free_turn);
  if (farthest_pose.kind == PlayKind::no_pin)
    return turned + std::abs(effect.along.x) * sum_of(play.free_along) +
           std::abs(effect.along.y) * sum_of(play.free_across);
  return turned + farthest_pose.at_most_mm;
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
