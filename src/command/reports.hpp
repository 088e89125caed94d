// What the verbs print, as text for people and as JSON for programs (always millimetres and degrees there).
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "haftwright/checks/checks.hpp"
#include "haftwright/estimates/epoxy.hpp"
#include "haftwright/guide/order_of_work.hpp"
#include "haftwright/solids/solids.hpp"

namespace haftwright::command {

/// Findings worst first: fails and near ones with reason and basis, then every passing margin on a line.
std::string findings_text(const Design& design, std::vector<Finding> findings);
std::string summary_line(const std::vector<Finding>& findings);
std::string overview_text(const Design& design, const Handle& handle);
std::string parts_text(const Design& design, const Handle& handle);
std::string cautions_text(const Design& design);
std::string epoxy_text(const Design& design, const EpoxyEstimate& estimate);
std::string guide_text(const Design& design, const DrillGuide& guide);
std::string work_text(const std::vector<WorkStep>& steps);

/// To standard output. Text that came from a file may hold broken UTF-8 only in paths; those must not stop a
/// report.
void print_json(const nlohmann::ordered_json& json);

/// A place as a value: its thing, number, side and so on, each under a key of its own; what it was measured
/// to under "to".
nlohmann::ordered_json where_json(const Design& design, const Where& where);
nlohmann::ordered_json findings_json(const Design& design, const std::vector<Finding>& findings);
nlohmann::ordered_json handle_json(const Design& design, const Handle& handle);
nlohmann::ordered_json cautions_json(const Design& design);
nlohmann::ordered_json epoxy_json(const EpoxyEstimate& estimate);
nlohmann::ordered_json guide_json(const DrillGuide& guide);
nlohmann::ordered_json work_json(const std::vector<WorkStep>& steps);
nlohmann::ordered_json bodies_json(const std::vector<BodyFacts>& facts);

}  // namespace haftwright::command
