// What sawing a book through leaves of its thickness.
#pragma once

#include <vector>

#include "haftwright/cutting/plan.hpp"

namespace haftwright::cutting {

/// For each book of the board that leaves a slab worth keeping.
std::vector<Slab> slabs_of(const BoardUse& use, const Needs& needs, const Offcut& offcut,
                           const ShopRules& rules);

}  // namespace haftwright::cutting
