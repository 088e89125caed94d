// Plans that differ for whoever saws.
#pragma once

#include "haftwright/cutting/plan.hpp"

namespace haftwright::cutting {

/// Of plans that take the same pieces from the same offcuts in the same pairing only the best stays: which
/// half of a book is the left one, or which of two offcuts alike is taken, is no choice to offer. At most
/// `most` stay, each with why it stands before the next that does.
void keep_distinct(std::vector<CuttingPlan>& plans, std::size_t most, const CuttingWishes& wishes);

/// So many plans are asked for to be left with `most` that differ: three pairs of mates that are books can
/// each lie two ways.
inline constexpr std::size_t kPlansForEach = 8;

}  // namespace haftwright::cutting
