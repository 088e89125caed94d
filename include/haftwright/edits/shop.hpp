// What belongs to the shop.
#pragma once

#include "haftwright/edits/edited.hpp"

namespace haftwright {

/// Refused outside the rule's range, which the refusal names.
Edited set_rule(const Design& design, double ShopRules::*rule, double value);

}  // namespace haftwright
