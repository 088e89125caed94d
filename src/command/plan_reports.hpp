// Cutting plans as text for people and as JSON for programs.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "haftwright/cutting/cutting_list.hpp"

namespace haftwright::command {

/// What is needed, and the plans beside each other: which offcuts each takes and why it stands where it does.
std::string plans_text(const CuttingPlans& plans, const Bin& bin, LengthUnit unit);

nlohmann::ordered_json needs_json(const Needs& needs);
nlohmann::ordered_json plan_json(const Needs& needs, const CuttingPlan& plan, const Bin& bin);

}  // namespace haftwright::command
