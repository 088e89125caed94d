// Cutting plans as text for people and as JSON for programs.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/cutting/why_not.hpp"

namespace haftwright::command {

/// What is needed, and the plans beside each other: which offcuts each takes and why it stands where it does.
std::string plans_text(const CuttingPlans& plans, const Bin& bin, LengthUnit unit);

/// What nearly does and which change would help, for each piece without a place; empty where there is none.
std::string why_not_text(const Needs& needs, const Bin& bin, const std::vector<WhyNot>& reasons);

nlohmann::ordered_json why_not_json(const Needs& needs, const Bin& bin, const std::vector<WhyNot>& reasons);
/// As the project has them.
nlohmann::ordered_json hand_places_json(const Design& design);
nlohmann::ordered_json needs_json(const Needs& needs);
nlohmann::ordered_json plan_json(const Needs& needs, const CuttingPlan& plan, const Bin& bin);

}  // namespace haftwright::command
