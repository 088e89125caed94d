// The shaped surface of a side.
#pragma once

#include <cstddef>

#include "haftwright/edits/edited.hpp"

namespace haftwright {

Edited set_finish(const Design& design, Which side, const Finish& finish);
Edited move_station(const Design& design, Which side, std::size_t station, double x_mm, double thickness_mm);
/// On the curve as it is, so that the surface hardly changes.
Edited add_station(const Design& design, Which side, double x_mm);
Edited remove_station(const Design& design, Which side, std::size_t station);

}  // namespace haftwright
