// Limits and fits (ISO 286-1:2010) up to 30 mm, and the fastener formulas of ASME Y14.5 appendix B.
#pragma once

#include <string_view>

namespace haftwright::test {

/// Lower and upper limit deviation from the nominal size, micrometres.
struct LimitDeviations {
  double lower_um = 0;
  double upper_um = 0;
};

/// Limit deviations of a tolerance class such as "H7" (hole) or "g6" (shaft) at a nominal size over 0 and up
/// to 30 mm. Known: D E F G H with IT5 to IT11, d e f g h k m n p with IT5 to IT11. Throws
/// std::invalid_argument, saying which part is not in the table.
LimitDeviations limit_deviations(std::string_view tolerance_class, double nominal_mm);

/// Width of a standard tolerance grade, micrometres; grade 5 to 11, size over 0 to 30 mm.
double standard_tolerance_um(int grade, double nominal_mm);

/// Floating fastener: position tolerance of each part, T = H - F. Hole least size, fastener greatest size,
/// mm.
double floating_fastener_tolerance_mm(double hole_least_mm, double fastener_greatest_mm);
/// Fixed fastener, equal split: T = (H - F) / 2 for each part.
double fixed_fastener_tolerance_mm(double hole_least_mm, double fastener_greatest_mm);

}  // namespace haftwright::test
