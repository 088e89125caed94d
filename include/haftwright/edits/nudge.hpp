// How far one press of an arrow key moves what is selected: steps that read well in the unit shown.
#pragma once

#include "haftwright/design/units.hpp"

namespace haftwright {

enum class NudgeSize { fine, usual, coarse };

/// Millimetres: 0.01, 0.1, 1. Decimal inches: 0.001, 0.005, 0.05. Fractions: 1/128, 1/64, 1/16.
double nudge_mm(LengthUnit shown, NudgeSize size);
/// Degrees: 0.05, 0.5, 5.
double nudge_deg(NudgeSize size);

}  // namespace haftwright
