// Places that are typed for blanks: read, held against the bin, put into the design.
#pragma once

#include "haftwright/cutting/plan.hpp"
#include "haftwright/offcuts/bin.hpp"
#include "plan.hpp"

namespace haftwright::command {

/// What was typed after --order, the most important first. Throws InputError.
std::vector<nesting::Preference> typed_order(const std::string& text);

/// The design with what --free and --fix ask for. Throws InputError that says what keeps a blank from the
/// place that was typed for it, and the nearest that it may have.
Design with_typed_places(const PlanOptions& options, const Design& design, const Bin& bin,
                         const CuttingWishes& wishes);

}  // namespace haftwright::command
