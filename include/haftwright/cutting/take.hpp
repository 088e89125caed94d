// A plan carried into the bin: what it will take is noted, and once it is sawn, what is left comes back.
#pragma once

#include <filesystem>
#include <string>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/offcuts/bin_edits.hpp"

namespace haftwright {

/// What all reservations of a project call it: its name, else its file's without the ending. Empty where it
/// has neither.
std::string name_in_bin(const Design& design, const std::filesystem::path& project);

/// Everything that the plan takes, noted for the project in place of all that it had noted before. `bin` is
/// the one that was planned over. Refused where another project has it.
EditedBin reserve_as_planned(const Bin& bin, const Needs& needs, const CuttingPlan& plan,
                             const std::string& project);

/// Offcuts, sheets and rods as they are once the plan is sawn: leftovers with a clear rectangle large enough
/// to keep (the rules' leftover sizes) and slabs of books are in the bin again, the project's reservations
/// are gone. Refused as cut() is.
EditedBin cut_as_planned(const Bin& bin, const Needs& needs, const CuttingPlan& plan, const ShopRules& rules,
                         const std::string& project);

}  // namespace haftwright
