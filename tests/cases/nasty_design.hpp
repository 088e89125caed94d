// Designs with outlines such as a careless scan, a slip of the hand or a mutated file gives.
#pragma once

#include <cstdint>

#include "haftwright/design/design.hpp"

namespace haftwright::test {

/// Nodes from 1e-7 to 0.1 mm apart, bulges from 1e-12 up to more than a half circle, notches and spikes on
/// any side, triangles, leaning front faces, proud butts, tapers, crowns and round-overs. Many do not pass
/// validate(). The same seed gives the same design.
Design nasty_design(std::uint64_t seed);

}  // namespace haftwright::test
