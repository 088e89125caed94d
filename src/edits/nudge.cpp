#include "haftwright/edits/nudge.hpp"

#include <cstddef>

namespace haftwright {

double nudge_mm(LengthUnit shown, NudgeSize size) {
  static constexpr double kSteps[3][3] = {{0.01, 0.1, 1},
                                          {kMmPerInch / 1000, kMmPerInch / 200, kMmPerInch / 20},
                                          {kMmPerInch / 128, kMmPerInch / 64, kMmPerInch / 16}};
  return kSteps[static_cast<std::size_t>(shown)][static_cast<std::size_t>(size)];
}

double nudge_deg(NudgeSize size) {
  static constexpr double kSteps[] = {0.05, 0.5, 5};
  return kSteps[static_cast<std::size_t>(size)];
}

}  // namespace haftwright
