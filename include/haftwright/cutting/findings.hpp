// What is wrong with a cutting plan, as findings beside those of the checks.
#pragma once

#include <span>
#include <vector>

#include "haftwright/checks/checks.hpp"
#include "haftwright/cutting/plan.hpp"

namespace haftwright {

/// Ids and titles, as those of check_kinds().
struct CuttingKind {
  std::string_view id;
  std::string_view title;
};
std::span<const CuttingKind> cutting_kinds();

/// Against the design's rules:
/// - cut.place: that each piece, liner and spacer strip, and each pin, has a place;
/// - cut.by_hand: that each place that was chosen by hand is kept;
/// - cut.saw: that cuts right through part the blanks of a board;
/// - cut.grain: how far the fibre runs off each piece's grain where it lies;
/// - cut.mates: that a piece and its mate come out of one block;
/// - cut.thickness: what the offcut has over the piece before it is flattened.
std::vector<Finding> cutting_findings(const Design& design, const Needs& needs, const CuttingPlan& plan,
                                      const Bin& bin);

}  // namespace haftwright
