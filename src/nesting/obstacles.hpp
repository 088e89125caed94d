#pragma once

#include <span>

#include "haftwright/nesting/places.hpp"
#include "room.hpp"

namespace haftwright::nesting::inner {

Others others_of(std::span<const Obstacle> obstacles, const Rules& rules);

}  // namespace haftwright::nesting::inner
