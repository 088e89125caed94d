#include "haftwright/estimates/epoxy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright {
namespace {

constexpr double kMm3PerMl = 1000;

/// A count of scale steps this little over a whole number is that number.
constexpr double kRounding = 1e-9;

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

/// What to set the scale to: whole steps of it, both parts.
void weigh_out(const Adhesive& adhesive, EpoxyEstimate& estimate) {
  const double ratio = estimate.hardener_per_resin_by_weight;
  const double step = adhesive.scale_step_g;
  const double batch = std::max(estimate.total_g, adhesive.least_batch_g);
  estimate.least_batch_rules = adhesive.least_batch_g > estimate.total_g;
  double resin_steps = std::max(1.0, std::ceil(batch / (1 + ratio) / step - kRounding));
  // Rounding the hardener down may leave the batch half a step short.
  if ((resin_steps + std::round(resin_steps * ratio)) * step < batch - kRounding * step) ++resin_steps;
  const double hardener_steps = std::round(resin_steps * ratio);
  estimate.resin_g = resin_steps * step;
  estimate.hardener_g = hardener_steps * step;
  estimate.resin_ml = estimate.resin_g / adhesive.resin_density_g_ml;
  estimate.hardener_ml = estimate.hardener_g / adhesive.hardener_density_g_ml;
  estimate.ratio_error_share = hardener_steps / resin_steps / ratio - 1;
}

}  // namespace

double hardener_per_resin_by_weight(const Adhesive& adhesive) {
  const double by_parts = adhesive.hardener_parts / adhesive.resin_parts;
  if (adhesive.mix_by == MixBy::weight) return by_parts;
  return by_parts * adhesive.hardener_density_g_ml / adhesive.resin_density_g_ml;
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
  weigh_out(adhesive, estimate);
  return estimate;
}

}  // namespace haftwright
