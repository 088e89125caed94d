// What each contributor has to do with a measure's variance.
//
// First order and total effect: I. M. Sobol', "Sensitivity estimates for nonlinear mathematical models",
// Mathematical Modelling and Computational Experiment 1 (1993), 407-414; T. Homma and A. Saltelli,
// "Importance measures in global sensitivity analysis of nonlinear models", Reliability Engineering and
// System Safety 52 (1996), 1-17. Estimated by differences of two samples that have some numbers in common: M.
// J. W. Jansen, "Analysis of variance designs for model output", Computer Physics Communications 117 (1999),
// 35-43. The three are cited from memory; closed forms hold the figures in the tests.
#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

#include "haftwright/tolerance/sampling.hpp"

namespace haftwright {
namespace {

using Drop = std::function<bool(std::size_t variable)>;
using Rename = std::function<std::size_t(std::size_t variable)>;

/// Variance of a standardised variable: half its limit squared, or a third of it.
double variance_of(DistributionShape spread) {
  return spread == DistributionShape::normal ? 0.25 : 1.0 / 3;
}

template <class Visit>
void each_sensitivity(PatternClearance& clearance, const Visit& visit) {
  const auto each = [&](Sensitivities& sensitivities) {
    std::for_each(sensitivities.begin(), sensitivities.end(), visit);
  };
  for (PinBound& pin : clearance.pins) {
    for (Sensitivities* sensitivities : {&pin.offset_x, &pin.offset_y, &pin.radius}) each(*sensitivities);
  }
  for (PinRoom& room : clearance.rooms) each(room.room);
  for (Sensitivities* sensitivities : {&clearance.free_along, &clearance.free_across, &clearance.free_turn})
    each(*sensitivities);
}

PatternClearance renamed(PatternClearance clearance, const Rename& rename) {
  each_sensitivity(clearance,
                   [&](Sensitivity& sensitivity) { sensitivity.variable = rename(sensitivity.variable); });
  return clearance;
}

std::vector<double> linear_variances(const ToleranceStack& stack, const Sensitivities& sensitivities) {
  std::vector<double> sizes(stack.variables.size(), 0.0);
  for (const Sensitivity& sensitivity : sensitivities)
    sizes.at(sensitivity.variable) += sensitivity.mm_at_limit;
  std::vector<double> variances(stack.contributors.size(), 0.0);
  for (std::size_t v = 0; v < sizes.size(); ++v)
    variances.at(stack.variables[v].contributor) +=
        sizes[v] * sizes[v] * variance_of(stack.variables[v].shape);
  return variances;
}

/// The part of a measure that is not linear, sampled twice at a time with some numbers in common: all of the
/// contributors that enter a clearance, and the clearances.
class Pairs {
 public:
  Pairs(const ToleranceStack& stack, std::size_t measure) : variables_(stack.variables) {
    for (const PatternClearance& clearance : stack.clearances)
      if (clearance.use != PatternClearance::Use::limits && clearance.effects.at(measure) != PoseEffect{}) {
        clearances_.push_back(clearance);
        clearances_.back().rooms.clear();  // they say who goes in, and move nothing
        effects_.push_back(clearance.effects[measure]);
      }
    in_clearances_.assign(stack.contributors.size(), false);
    for (PatternClearance& clearance : clearances_)
      each_sensitivity(clearance, [&](const Sensitivity& sensitivity) {
        if (sensitivity.mm_at_limit != 0) in_clearances_.at(contributor_of(sensitivity.variable)) = true;
      });
    for (const Sensitivity& sensitivity : stack.measures.at(measure).sensitivities)
      if (in_clearances_.at(contributor_of(sensitivity.variable))) sensitivities_.push_back(sensitivity);
    if (any()) lay_out(stack);
  }

  bool any() const { return !clearances_.empty(); }
  bool in_clearances(std::size_t contributor) const { return in_clearances_[contributor]; }

  /// Samples; afterwards the variance of the whole, and what its contributors and the clearance (the index
  /// after the last contributor) have to do with it, in mm^2.
  void sample_with(const SampleSettings& settings) {
    const Samples samples = sample(stack_, settings);
    for (const Distribution& measure : samples.measures)
      variances_.push_back(measure.deviation * measure.deviation);
  }
  double whole() const { return variances_[0]; }
  VarianceShare of(std::size_t contributor) const {
    const auto found = std::ranges::find(sampled_, contributor);
    if (found == sampled_.end()) return {};
    const auto at = static_cast<std::size_t>(1 + 2 * (found - sampled_.begin()));
    const double total = variances_[at] / 2;
    return {std::clamp(whole() - variances_[at + 1] / 2, 0.0, total), total};
  }

 private:
  std::size_t contributor_of(std::size_t variable) const { return variables_.at(variable).contributor; }

  /// Measures: the whole, and for each contributor and the clearance two differences of twins.
  void lay_out(const ToleranceStack& stack) {
    stack_.contributors = stack.contributors;
    stack_.variables = variables_;
    stack_.variables.insert(stack_.variables.end(), variables_.begin(), variables_.end());
    stack_.clearances = clearances_;
    stack_.crept = stack.crept;
    stack_.measures.push_back({.sensitivities = sensitivities_});
    const std::size_t n = variables_.size();
    for (std::size_t s = 0; s <= in_clearances_.size(); ++s) {
      if (s < in_clearances_.size() && !in_clearances_[s]) continue;
      const bool clearance = s == in_clearances_.size();
      sampled_.push_back(s);
      // This one anew, all others as they were; then this one as it was, all others anew.
      add_twin([&](std::size_t v) { return !clearance && contributor_of(v) == s ? v + n : v; }, !clearance);
      add_twin([&](std::size_t v) { return clearance || contributor_of(v) != s ? v + n : v; }, clearance);
    }
    settle_effects();
  }

  void add_twin(const Rename& rename, bool same_pose_numbers) {
    Measure difference{.sensitivities = sensitivities_};
    for (const Sensitivity& sensitivity : sensitivities_)
      difference.sensitivities.push_back({rename(sensitivity.variable), -sensitivity.mm_at_limit});
    stack_.measures.push_back(std::move(difference));
    for (std::size_t p = 0; p < clearances_.size(); ++p) {
      stack_.clearances.push_back(renamed(clearances_[p], rename));
      if (same_pose_numbers) stack_.clearances.back().numbers_of = p;
    }
  }

  /// The clearances themselves count in every measure, each set of twins in one, against them.
  void settle_effects() {
    const std::size_t count = clearances_.size();
    for (std::size_t p = 0; p < stack_.clearances.size(); ++p) {
      const std::size_t set = p / count;  // 0: the clearances themselves
      const PoseEffect effect = effects_[p % count];
      std::vector<PoseEffect>& effects = stack_.clearances[p].effects;
      effects.assign(stack_.measures.size(), set == 0 ? effect : PoseEffect{});
      if (set > 0) effects[set] = {-effect.along, -effect.turn_mm};
    }
  }

  std::vector<Variable> variables_;
  std::vector<PatternClearance> clearances_;
  std::vector<PoseEffect> effects_;
  std::vector<bool> in_clearances_;  ///< one a contributor
  Sensitivities sensitivities_;
  std::vector<std::size_t> sampled_;
  ToleranceStack stack_;
  std::vector<double> variances_;
};

void drop_sensitivities(Sensitivities& sensitivities, const Drop& drop) {
  std::erase_if(sensitivities, [&](const Sensitivity& sensitivity) { return drop(sensitivity.variable); });
}

}  // namespace

ToleranceStack without_contributor(const ToleranceStack& stack, std::size_t contributor) {
  ToleranceStack without = stack;
  const auto drop = [&](std::size_t variable) {
    return stack.variables.at(variable).contributor == contributor;
  };
  for (Measure& measure : without.measures) drop_sensitivities(measure.sensitivities, drop);
  for (PatternClearance& clearance : without.clearances)
    each_sensitivity(clearance, [&](Sensitivity& sensitivity) {
      if (drop(sensitivity.variable)) sensitivity.mm_at_limit = 0;
    });
  return without;
}

std::vector<VarianceShare> variance_shares(const ToleranceStack& stack, std::size_t measure,
                                           const SampleSettings& settings) {
  Pairs pairs(stack, measure);
  if (pairs.any()) pairs.sample_with(settings);
  const std::vector<double> linear = linear_variances(stack, stack.measures.at(measure).sensitivities);
  std::vector<VarianceShare> shares;
  double whole = pairs.any() ? pairs.whole() : 0;
  for (std::size_t s = 0; s < linear.size(); ++s) {
    if (pairs.in_clearances(s)) {
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
