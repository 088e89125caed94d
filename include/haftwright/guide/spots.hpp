// What the parts of a drill guide are called.
#pragma once

#include "haftwright/guide/drill_guide.hpp"

namespace haftwright {

Spot spot_of(const GuideBore& bore);
Spot spot_of(const GuideLocator& locator);
Spot spot_of(const SightWindow& window);

}  // namespace haftwright
