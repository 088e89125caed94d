// How the shop works: its rules, how it drills and how far it errs.
#pragma once

#include "haftwright/edits/edited.hpp"

namespace haftwright {

/// Refused outside the rule's range, which the refusal names.
Edited set_rule(const Design& design, double ShopRules::*rule, double value);

/// Refused outside 0 to the error's most, which the refusal names.
Edited set_error(const Design& design, double ShopErrors::*error, double value);

Edited set_drill_way(const Design& design, DrillWay way);
/// Refused where a project file would refuse it.
Edited set_guide_thickness(const Design& design, double thickness_mm);
/// Both scales from one built-up block. Refused where that is so already, where the sides differ, and where a
/// joint is raked: halves of one block have their rake the other way, so that only an upright joint comes out
/// alike.
Edited saw_from_one_block(const Design& design);

}  // namespace haftwright
