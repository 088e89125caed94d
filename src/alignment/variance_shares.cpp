// What each source adds to a measure's variance.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "haftwright/alignment/draws.hpp"

namespace haftwright {
namespace {

/// Variance of a standardised variable: half its limit squared, or a third of it.
double variance_of(Spread spread) {
  return spread == Spread::normal ? 0.25 : 1.0 / 3;
}

template <class Drop>
void drop_terms(Terms& terms, const Drop& drop) {
  std::erase_if(terms, [&](const Term& term) { return drop(term.variable); });
}

/// Takes out of every play what a variable that is to be dropped does.
template <class Drop>
void drop_from_play(Play& play, const Drop& drop) {
  for (ChainPin& pin : play.pins) {
    for (Terms* terms : {&pin.offset_x, &pin.offset_y, &pin.radius}) drop_terms(*terms, drop);
  }
  for (PinRoom& room : play.rooms) drop_terms(room.room, drop);
  for (Terms* terms : {&play.free_along, &play.free_across, &play.free_turn}) drop_terms(*terms, drop);
}

template <class Drop>
Chain dropped(Chain chain, const Drop& drop) {
  for (Measure& measure : chain.measures) drop_terms(measure.terms, drop);
  for (Play& play : chain.plays) drop_from_play(play, drop);
  return chain;
}

/// The chain with this measure alone, and only the plays that change it.
Chain only_measure(const Chain& chain, std::size_t measure) {
  Chain only = chain;
  only.measures = {chain.measures.at(measure)};
  only.plays.clear();
  for (const Play& play : chain.plays) {
    if (play.effects.at(measure) == PoseEffect{}) continue;
    only.plays.push_back(play);
    only.plays.back().effects = {play.effects[measure]};
  }
  return only;
}

std::vector<double> linear_variances(const Chain& chain, const Terms& terms) {
  std::vector<double> sizes(chain.variables.size(), 0.0);
  for (const Term& term : terms) sizes.at(term.variable) += term.mm_at_limit;
  std::vector<double> variances(chain.sources.size(), 0.0);
  for (std::size_t v = 0; v < sizes.size(); ++v)
    variances.at(chain.variables[v].source) += sizes[v] * sizes[v] * variance_of(chain.variables[v].spread);
  return variances;
}

double drawn_variance(const Chain& chain, const DrawSettings& settings) {
  const double deviation = draw(chain, settings).measures.front().deviation;
  return deviation * deviation;
}

/// Which sources have a variable in some play.
std::vector<bool> sources_in_plays(const Chain& chain) {
  std::vector<bool> in_plays(chain.sources.size(), false);
  const auto mark = [&](const Term& term) {
    if (term.mm_at_limit != 0) in_plays.at(chain.variables.at(term.variable).source) = true;
  };
  for (const Play& play : chain.plays) {
    for (const ChainPin& pin : play.pins)
      for (const Terms* terms : {&pin.offset_x, &pin.offset_y, &pin.radius})
        std::for_each(terms->begin(), terms->end(), mark);
    for (const Terms* terms : {&play.free_along, &play.free_across, &play.free_turn})
      std::for_each(terms->begin(), terms->end(), mark);
  }
  return in_plays;
}

}  // namespace

Chain without_source(const Chain& chain, std::size_t source) {
  return dropped(chain, [&](std::size_t variable) { return chain.variables.at(variable).source == source; });
}

std::vector<double> variance_shares(const Chain& chain, std::size_t measure, const DrawSettings& settings) {
  const Chain only = only_measure(chain, measure);
  std::vector<double> shares = linear_variances(only, only.measures.front().terms);
  shares.push_back(0);
  if (!only.plays.empty()) {
    const std::vector<bool> in_plays = sources_in_plays(only);
    const double whole = drawn_variance(only, settings);
    for (std::size_t source = 0; source < in_plays.size(); ++source)
      if (in_plays[source])
        shares[source] = std::max(0.0, whole - drawn_variance(without_source(only, source), settings));
    shares.back() = drawn_variance(dropped(only, [](std::size_t) { return true; }), settings);
  }
  const double sum = std::accumulate(shares.begin(), shares.end(), 0.0);
  if (sum > 0)
    for (double& share : shares) share /= sum;
  return shares;
}

}  // namespace haftwright
