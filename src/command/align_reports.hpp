// What `align` prints; see reports.hpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/alignment/dry_fit.hpp"

namespace haftwright::command {

/// In four lines.
std::string line_up_text(const Design& design, const LineUpReport& report);
/// Every way, place, source and change.
std::string line_up_full_text(const Design& design, const LineUpReport& report,
                              const SampleSettings& settings);
nlohmann::ordered_json line_up_json(const Design& design, const LineUpReport& report,
                                    const SampleSettings& settings);

std::string unused_text(const std::vector<UnusedReading>& unused);
std::string dry_fit_text(const Design& design, const DryFit& fit);
nlohmann::ordered_json dry_fit_json(const std::optional<DryFit>& fit,
                                    const std::vector<UnusedReading>& unused);

}  // namespace haftwright::command
