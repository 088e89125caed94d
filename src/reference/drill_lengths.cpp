#include <algorithm>
#include <array>

#include "haftwright/reference/drills.hpp"

namespace haftwright {
namespace {

struct FluteRow {
  double up_to_mm;  ///< drill diameter, inclusive
  double flutes_mm;
};

/// Over 1.90 mm up to the first row's size, and so on.
constexpr double kOver_mm = 1.90;
constexpr std::array<FluteRow, 17> kRows = {{{2.12, 24},
                                             {2.36, 27},
                                             {2.65, 30},
                                             {3.00, 33},
                                             {3.35, 36},
                                             {3.75, 39},
                                             {4.25, 43},
                                             {4.75, 47},
                                             {5.30, 52},
                                             {6.00, 57},
                                             {6.70, 63},
                                             {7.50, 69},
                                             {8.50, 75},
                                             {9.50, 81},
                                             {10.60, 87},
                                             {11.80, 94},
                                             {13.20, 101}}};

}  // namespace

std::optional<FluteLength> jobber_flute_length(double drill_mm) {
  if (!(drill_mm > kOver_mm)) return std::nullopt;
  const auto row = std::ranges::find_if(kRows, [&](const FluteRow& r) { return drill_mm <= r.up_to_mm; });
  if (row == kRows.end()) return std::nullopt;
  return FluteLength{row->flutes_mm,
                     "DIN 338, jobber drills with parallel shank, flute lengths; memory, not verified"};
}

}  // namespace haftwright
