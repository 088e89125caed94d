#include "haftwright/estimates/epoxy.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright {
namespace {

constexpr double kMm3PerMl = 1000;

/// `value` in whole steps, upward; a whole number of steps stays what it is in spite of rounding.
double rounded_up(double value, double step) {
  constexpr double kWhole = 1e-9;
  return std::ceil(value / step - kWhole) * step;
}

/// Rings of glue round a pin, through every layer it passes.
double pin_rings_mm3(const PinLayout& pin) {
  double volume = 0;
  for (const HoleLayer& layer : pin.layers) {
    const double ring = layer.diameter_mm * layer.diameter_mm - pin.diameter_mm * pin.diameter_mm;
    volume += std::numbers::pi / 4 * std::max(0.0, ring) * layer.length_mm();
  }
  return volume;
}

/// What to weigh out: resin up to the scale's step, hardener by the ratio to the nearest step, together no
/// less than what is needed.
void weigh_out(const Adhesive& adhesive, EpoxyEstimate& estimate) {
  const double ratio = estimate.hardener_per_resin_by_weight;
  const double step = adhesive.scale_step_g;
  const double batch = std::max(estimate.total_g, adhesive.least_batch_g);
  estimate.least_batch_rules = adhesive.least_batch_g > estimate.total_g;
  estimate.resin_g = rounded_up(batch / (1 + ratio), step);
  estimate.hardener_g = std::max(step, std::round(estimate.resin_g * ratio / step) * step);
  while (estimate.resin_g + estimate.hardener_g < batch - step * 1e-6) {
    estimate.resin_g += step;
    estimate.hardener_g = std::max(step, std::round(estimate.resin_g * ratio / step) * step);
  }
  estimate.resin_ml = estimate.resin_g / adhesive.resin_density_g_ml;
  estimate.hardener_ml = estimate.hardener_g / adhesive.hardener_density_g_ml;
  estimate.ratio_error_share = estimate.hardener_g / estimate.resin_g / ratio - 1;
}

}  // namespace

double hardener_per_resin_by_weight(const Adhesive& adhesive) {
  const double parts = adhesive.hardener_parts / adhesive.resin_parts;
  if (adhesive.mix_by == MixBy::weight) return parts;
  return parts * adhesive.hardener_density_g_ml / adhesive.resin_density_g_ml;
}

EpoxyEstimate estimate_epoxy(const Design& design, const Handle& handle) {
  const Adhesive& adhesive = design.adhesive;
  EpoxyEstimate estimate;
  const auto add = [&](const std::string& name, double area_mm2, double volume_mm3) {
    estimate.lines.push_back({name, area_mm2, volume_mm3 / kMm3PerMl});
    estimate.net_ml += volume_mm3 / kMm3PerMl;
  };
  for (Which which : {Which::left, Which::right})
    for (const Bond& bond : handle.side(which).bonds)
      add(bond.name, bond.area_mm2, bond.area_mm2 * adhesive.bond_line_mm);
  for (const PinLayout& pin : handle.pins)
    add(design.pins[pin.pin].name + ", ring in its holes", 0, pin_rings_mm3(pin));

  estimate.squeeze_out_ml = adhesive.squeeze_out_factor * estimate.net_ml;
  estimate.cup_loss_ml = adhesive.cup_loss_ml;
  estimate.total_ml = estimate.net_ml + estimate.squeeze_out_ml + estimate.cup_loss_ml;
  estimate.hardener_per_resin_by_weight = hardener_per_resin_by_weight(adhesive);
  const double ratio = estimate.hardener_per_resin_by_weight;
  estimate.mixed_density_g_ml =
      (1 + ratio) / (1 / adhesive.resin_density_g_ml + ratio / adhesive.hardener_density_g_ml);
  estimate.total_g = estimate.total_ml * estimate.mixed_density_g_ml;
  weigh_out(adhesive, estimate);
  return estimate;
}

}  // namespace haftwright
