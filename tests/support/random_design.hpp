// Random designs a maker could have drawn: they pass validate() and lay_out().
#pragma once

#include <cstdint>

#include "haftwright/design/design.hpp"

namespace haftwright::test {

/// The same seed gives the same design on every machine whose sin, cos and tan agree. Straight and bowed
/// tangs, tapered or not; 1 to 5 pieces a side; slanted and raked joints with and without spacer strips;
/// liners; a right side that mirrors, misses a little or is another side altogether; crowns, round-overs; 1
/// to 6 pins, solid and tubes, in drilled, measured and existing holes; cutouts; materials and units of every
/// kind.
Design random_design(std::uint64_t seed);

}  // namespace haftwright::test
