// What each source has to do with a measure's variance.
//
// First order and total effect: I. M. Sobol', "Sensitivity estimates for nonlinear mathematical models",
// Mathematical Modelling and Computational Experiment 1 (1993), 407-414; T. Homma and A. Saltelli,
// "Importance measures in global sensitivity analysis of nonlinear models", Reliability Engineering and
// System Safety 52 (1996), 1-17. Estimated by differences of two draws that have some numbers in common: M.
// J. W. Jansen, "Analysis of variance designs for model output", Computer Physics Communications 117 (1999),
// 35-43. The three are cited from memory; closed forms hold the figures in the tests.
#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

#include "haftwright/alignment/draws.hpp"

namespace haftwright {
namespace {

using Drop = std::function<bool(std::size_t variable)>;
using Rename = std::function<std::size_t(std::size_t variable)>;

/// Variance of a standardised variable: half its limit squared, or a third of it.
double variance_of(Spread spread) {
  return spread == Spread::normal ? 0.25 : 1.0 / 3;
}

template <class Visit>
void each_term(Play& play, const Visit& visit) {
  const auto each = [&](Terms& terms) { std::for_each(terms.begin(), terms.end(), visit); };
  for (ChainPin& pin : play.pins) {
    for (Terms* terms : {&pin.offset_x, &pin.offset_y, &pin.radius}) each(*terms);
  }
  for (PinRoom& room : play.rooms) each(room.room);
  for (Terms* terms : {&play.free_along, &play.free_across, &play.free_turn}) each(*terms);
}

Play renamed(Play play, const Rename& rename) {
  each_term(play, [&](Term& term) { term.variable = rename(term.variable); });
  return play;
}

std::vector<double> linear_variances(const Chain& chain, const Terms& terms) {
  std::vector<double> sizes(chain.variables.size(), 0.0);
  for (const Term& term : terms) sizes.at(term.variable) += term.mm_at_limit;
  std::vector<double> variances(chain.sources.size(), 0.0);
  for (std::size_t v = 0; v < sizes.size(); ++v)
    variances.at(chain.variables[v].source) += sizes[v] * sizes[v] * variance_of(chain.variables[v].spread);
  return variances;
}

/// The part of a measure that is not linear, drawn twice at a time with some numbers in common: all of the
/// sources that enter a play, and the plays.
class Pairs {
 public:
  Pairs(const Chain& chain, std::size_t measure) : variables_(chain.variables) {
    for (const Play& play : chain.plays)
      if (play.use != Play::Use::limits && play.effects.at(measure) != PoseEffect{}) {
        plays_.push_back(play);
        plays_.back().rooms.clear();  // they say who goes in, and move nothing
        effects_.push_back(play.effects[measure]);
      }
    in_plays_.assign(chain.sources.size(), false);
    for (Play& play : plays_)
      each_term(play, [&](const Term& term) {
        if (term.mm_at_limit != 0) in_plays_.at(source_of(term.variable)) = true;
      });
    for (const Term& term : chain.measures.at(measure).terms)
      if (in_plays_.at(source_of(term.variable))) terms_.push_back(term);
    if (any()) lay_out(chain);
  }

  bool any() const { return !plays_.empty(); }
  bool in_plays(std::size_t source) const { return in_plays_[source]; }

  /// Draws; afterwards the variance of the whole, and what its sources and the play (the index after the
  /// last source) have to do with it, in mm^2.
  void draw_with(const DrawSettings& settings) {
    const Draws draws = draw(chain_, settings);
    for (const Distribution& measure : draws.measures)
      variances_.push_back(measure.deviation * measure.deviation);
  }
  double whole() const { return variances_[0]; }
  VarianceShare of(std::size_t source) const {
    const auto found = std::ranges::find(drawn_, source);
    if (found == drawn_.end()) return {};
    const auto at = static_cast<std::size_t>(1 + 2 * (found - drawn_.begin()));
    const double total = variances_[at] / 2;
    return {std::clamp(whole() - variances_[at + 1] / 2, 0.0, total), total};
  }

 private:
  std::size_t source_of(std::size_t variable) const { return variables_.at(variable).source; }

  /// Measures: the whole, and for each source and the play two differences of twins.
  void lay_out(const Chain& chain) {
    chain_.sources = chain.sources;
    chain_.variables = variables_;
    chain_.variables.insert(chain_.variables.end(), variables_.begin(), variables_.end());
    chain_.plays = plays_;
    chain_.crept = chain.crept;
    chain_.measures.push_back({.terms = terms_});
    const std::size_t n = variables_.size();
    for (std::size_t s = 0; s <= in_plays_.size(); ++s) {
      if (s < in_plays_.size() && !in_plays_[s]) continue;
      const bool play = s == in_plays_.size();
      drawn_.push_back(s);
      // This one anew, all others as they were; then this one as it was, all others anew.
      add_twin([&](std::size_t v) { return !play && source_of(v) == s ? v + n : v; }, !play);
      add_twin([&](std::size_t v) { return play || source_of(v) != s ? v + n : v; }, play);
    }
    settle_effects();
  }

  void add_twin(const Rename& rename, bool same_pose_numbers) {
    Measure difference{.terms = terms_};
    for (const Term& term : terms_) difference.terms.push_back({rename(term.variable), -term.mm_at_limit});
    chain_.measures.push_back(std::move(difference));
    for (std::size_t p = 0; p < plays_.size(); ++p) {
      chain_.plays.push_back(renamed(plays_[p], rename));
      if (same_pose_numbers) chain_.plays.back().numbers_of = p;
    }
  }

  /// The plays themselves count in every measure, each set of twins in one, against them.
  void settle_effects() {
    const std::size_t count = plays_.size();
    for (std::size_t p = 0; p < chain_.plays.size(); ++p) {
      const std::size_t set = p / count;  // 0: the plays themselves
      const PoseEffect effect = effects_[p % count];
      std::vector<PoseEffect>& effects = chain_.plays[p].effects;
      effects.assign(chain_.measures.size(), set == 0 ? effect : PoseEffect{});
      if (set > 0) effects[set] = {-effect.along, -effect.turn_mm};
    }
  }

  std::vector<Variable> variables_;
  std::vector<Play> plays_;
  std::vector<PoseEffect> effects_;
  std::vector<bool> in_plays_;  ///< one a source
  Terms terms_;
  std::vector<std::size_t> drawn_;
  Chain chain_;
  std::vector<double> variances_;
};

void drop_terms(Terms& terms, const Drop& drop) {
  std::erase_if(terms, [&](const Term& term) { return drop(term.variable); });
}

}  // namespace

Chain without_source(const Chain& chain, std::size_t source) {
  Chain without = chain;
  const auto drop = [&](std::size_t variable) { return chain.variables.at(variable).source == source; };
  for (Measure& measure : without.measures) drop_terms(measure.terms, drop);
  for (Play& play : without.plays)
    each_term(play, [&](Term& term) {
      if (drop(term.variable)) term.mm_at_limit = 0;
    });
  return without;
}

std::vector<VarianceShare> variance_shares(const Chain& chain, std::size_t measure,
                                           const DrawSettings& settings) {
  Pairs pairs(chain, measure);
  if (pairs.any()) pairs.draw_with(settings);
  const std::vector<double> linear = linear_variances(chain, chain.measures.at(measure).terms);
  std::vector<VarianceShare> shares;
  double whole = pairs.any() ? pairs.whole() : 0;
  for (std::size_t s = 0; s < linear.size(); ++s) {
    if (pairs.in_plays(s)) {
      shares.push_back(pairs.of(s));
    } else {
      shares.push_back({linear[s], linear[s]});
      whole += linear[s];
    }
  }
  shares.push_back(pairs.of(linear.size()));
  for (VarianceShare& share : shares)
    share = whole > 0 ? VarianceShare{share.alone / whole, share.total / whole} : VarianceShare{};
  return shares;
}

}  // namespace haftwright
