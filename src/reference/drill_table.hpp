// The listed drills and reamers as published, one row a size.
#pragma once

#include <span>

#include "haftwright/reference/drills.hpp"

namespace haftwright::reference {

/// By series (fraction, number, letter, metric, reamer) and inside a series by diameter.
std::span<const ListedDrill> drill_table();

}  // namespace haftwright::reference
