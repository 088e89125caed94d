// Offcuts that a piece nearly fits on.
#pragma once

#include <vector>

#include "haftwright/cutting/why_not.hpp"

namespace haftwright::cutting {

/// For the first of the pieces, over all free offcuts of its wood: at most three, those that lack least.
std::vector<NearOffcut> near_offcuts(const Design& design, const Needs& needs,
                                     const std::vector<std::size_t>& pieces, const Bin& bin,
                                     const CuttingWishes& wishes);

}  // namespace haftwright::cutting
