#include "haftwright/estimates/epoxy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright {
namespace {

constexpr double kMm3PerMl = 1000;

/// What the glue between pin and holes fills, all layers. A hole smaller than the pin takes none: such a pin
/// does not go in, which the checks tell.
double pin_gap_ml(const PinLayout& pin) {
  double gap = 0;
  for (const HoleLayer& layer : pin.layers) {
    const double ring = layer.diameter_mm * layer.diameter_mm - pin.diameter_mm * pin.diameter_mm;
    gap += std::numbers::pi / 4 * std::max(0.0, ring) * layer.length_mm();
  }
  return gap / kMm3PerMl;
}

void add_lines(const Design& design, const Handle& handle, EpoxyEstimate& estimate) {
  for (const Which which : {Which::left, Which::right})
    for (const Bond& bond : handle.side(which).bonds)
      estimate.lines.push_back(
          {bond.name, bond.area_mm2, bond.area_mm2 * design.adhesive.bond_line_mm / kMm3PerMl});
  for (const PinLayout& pin : handle.pins)
    estimate.lines.push_back({"pin " + std::to_string(pin.pin + 1) + " holes", 0, pin_gap_ml(pin)});
}

}  // namespace

double hardener_per_resin_by_weight(const Adhesive& adhesive) {
  const double by_parts = adhesive.hardener_parts / adhesive.resin_parts;
  if (adhesive.mix_by == MixBy::weight) return by_parts;
  return by_parts * adhesive.hardener_density_g_ml / adhesive.resin_density_g_ml;
}

Mixing mixing_of(const Design& design, const EpoxyEstimate& estimate) {
  return {.needed_g = std::max(estimate.total_g, design.adhesive.least_batch_g),
          .hardener_per_resin = estimate.hardener_per_resin_by_weight,
          .scale_step_g = design.adhesive.scale_step_g,
          .extra_share = design.rules.mix_extra_share};
}

EpoxyEstimate estimate_epoxy(const Design& design, const Handle& handle) {
  const Adhesive& adhesive = design.adhesive;
  EpoxyEstimate estimate;
  add_lines(design, handle, estimate);
  for (const EpoxyEstimate::Line& line : estimate.lines) estimate.net_ml += line.volume_ml;
  estimate.squeeze_out_ml = adhesive.squeeze_out_factor * estimate.net_ml;
  estimate.cup_loss_ml = adhesive.cup_loss_ml;
  estimate.total_ml = estimate.net_ml + estimate.squeeze_out_ml + estimate.cup_loss_ml;
  const double ratio = hardener_per_resin_by_weight(adhesive);
  estimate.hardener_per_resin_by_weight = ratio;
  // Both parts keep their volumes when mixed: (mA + mB) / (mA / rhoA + mB / rhoB).
  estimate.mixed_density_g_ml =
      (1 + ratio) / (1 / adhesive.resin_density_g_ml + ratio / adhesive.hardener_density_g_ml);
  estimate.total_g = estimate.total_ml * estimate.mixed_density_g_ml;
  estimate.least_batch_rules = adhesive.least_batch_g > estimate.total_g;
  const Batch batch = best_batch(mixing_of(design, estimate));
  estimate.resin_g = batch.resin_g;
  estimate.hardener_g = batch.hardener_g;
  estimate.ratio_error_share = batch.ratio_error_share;
  estimate.resin_ml = batch.resin_g / adhesive.resin_density_g_ml;
  estimate.hardener_ml = batch.hardener_g / adhesive.hardener_density_g_ml;
  return estimate;
}

}  // namespace haftwright
