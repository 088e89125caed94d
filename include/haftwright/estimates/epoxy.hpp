// How much epoxy to mix.
#pragma once

#include <string>
#include <vector>

#include "haftwright/estimates/mixing.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

struct EpoxyEstimate {
  struct Line {
    std::string name;     ///< a bond, or "pin 1 holes"
    double area_mm2 = 0;  ///< 0 for pin holes
    double volume_ml = 0;
  };
  std::vector<Line> lines;
  double net_ml = 0;  ///< bonds and pin holes
  double squeeze_out_ml = 0;
  double cup_loss_ml = 0;
  double total_ml = 0;
  double mixed_density_g_ml = 0;
  double total_g = 0;     ///< the volume's mass, not rounded
  double resin_g = 0;     ///< to weigh out, as best_batch finds it; batch not under the least one
  double hardener_g = 0;  ///< to weigh out with it
  double resin_ml = 0;    ///< of what is weighed
  double hardener_ml = 0;
  double hardener_per_resin_by_weight = 0;
  double ratio_error_share = 0;  ///< how far whole steps move the weighed ratio from the wanted one
  bool least_batch_rules = false;
};

/// Parts by weight from parts by volume: (B/A by weight) = (B/A by volume) x (density B / density A).
double hardener_per_resin_by_weight(const Adhesive& adhesive);

/// What is to be weighed: the estimate's total or the least batch, whichever is more.
Mixing mixing_of(const Design& design, const EpoxyEstimate& estimate);

EpoxyEstimate estimate_epoxy(const Design& design, const Handle& handle);

}  // namespace haftwright
