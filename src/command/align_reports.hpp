// What `align` prints; see reports.hpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "haftwright/alignment/assess.hpp"

namespace haftwright::command {

std::string line_up_text(const Design& design, const LineUpReport& report, const DrawSettings& settings);
nlohmann::ordered_json line_up_json(const LineUpReport& report, const DrawSettings& settings);

}  // namespace haftwright::command
