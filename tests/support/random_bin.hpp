// Valid bins of offcuts from a seed: odd outlines, arcs, defects, matched sets, photos, reservations.
#pragma once

#include "haftwright/offcuts/bin.hpp"
#include "support/random.hpp"

namespace haftwright::test {

/// A chain that is an outline: a rectangle, a wedge or a star-shaped one of lines and arcs, `size_mm` across.
std::vector<Node> random_outline(Random& random, double size_mm);
/// An offcut with every kind of field, without a matched set and reservations.
Offcut random_offcut(Random& random);
/// Passes validate(), has ids, and every field of it differs from the default somewhere.
Bin random_bin(std::uint64_t seed);

}  // namespace haftwright::test
