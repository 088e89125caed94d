// The epoxy's ratio as the scale can weigh it.
#include <algorithm>
#include <cmath>

#include "haftwright/estimates/epoxy.hpp"
#include "kinds.hpp"

namespace haftwright::checks {
namespace {

std::string parts_words(double resin, double hardener, int decimals, const char* unit) {
  return format_number(resin, decimals) + unit + " resin and " + format_number(hardener, decimals) + unit +
         " hardener";
}

/// What meets the ratio better: more of it, a finer scale, or no scale at all.
std::string ways_out(const Design& design, const EpoxyEstimate& estimate) {
  const Mixing mixing = mixing_of(design, estimate);
  const double within = design.rules.mix_near_share;
  std::string ways;
  if (const auto batch = batch_within(mixing, within))
    ways += "Mix a larger batch (" +
            parts_words(batch->resin_g, batch->hardener_g, decimals_of_step(mixing.scale_step_g), " g") +
            "), ";
  if (const auto step = scale_step_within(mixing, within))
    ways += std::string(ways.empty() ? "Weigh" : "weigh") + " on a scale that shows steps of " +
            shortest_number(*step) + " g, ";
  const double resin_g = mixing.needed_g / (1 + mixing.hardener_per_resin);
  return ways + (ways.empty() ? "Measure" : "or measure") + " both parts by volume (" +
         parts_words(resin_g / design.adhesive.resin_density_g_ml,
                     (mixing.needed_g - resin_g) / design.adhesive.hardener_density_g_ml, 1, " ml") +
         ").";
}

std::string why(const Design& design, const EpoxyEstimate& estimate, bool passes) {
  const int decimals = decimals_of_step(design.adhesive.scale_step_g);
  const double error = estimate.ratio_error_share;
  const std::string weighed = "Weighed as " +
                              parts_words(estimate.resin_g, estimate.hardener_g, decimals, " g") +
                              ", the hardener is " + format_number(std::abs(error) * 100, 1) + " % " +
                              (error < 0 ? "short of" : "over") + " its share. ";
  const std::string effect = "Epoxy mixed off its ratio cures soft or tacky.";
  return passes ? weighed + effect : weighed + effect + " " + ways_out(design, estimate);
}

}  // namespace

void check_glue_ratio(const Report& report) {
  const ShopRules& rules = report.design.rules;
  const EpoxyEstimate estimate = estimate_epoxy(report.design, report.handle);
  const double error = std::abs(estimate.ratio_error_share);
  // This limit has a near band of its own, in which the epoxy is already at risk.
  const double near_share = rules.mix_error_share > 0 ? 1 - rules.mix_near_share / rules.mix_error_share : 0;
  const Status status = judge(error, rules.mix_error_share, Sense::at_most, near_share);
  report.findings.push_back({.id = "glue.ratio",
                             .status = status,
                             .where = {{.thing = Thing::epoxy}},
                             .value = error,
                             .limit = rules.mix_error_share,
                             .sense = Sense::at_most,
                             .unit = FigureUnit::share,
                             .why = why(report.design, estimate, status == Status::pass),
                             .basis = basis_words(&ShopRules::mix_error_share)});
}

}  // namespace haftwright::checks
