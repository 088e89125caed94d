// What checks and edits of a bin share.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "haftwright/offcuts/bin.hpp"

namespace haftwright::offcuts {

/// Every id of the bin, those of offcuts, sheets and rods together.
std::vector<std::string> ids_of(const Bin& bin);
/// The projects that have reserved something, each once.
std::set<std::string> projects_of(const std::vector<Reservation>& reserved);

/// Does the defect reach into the outline, or touch it?
bool reaches_into(const Outline& defect, const Outline& outline);

}  // namespace haftwright::offcuts
