// What the line-up has found wrong, as findings beside those of the checks.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/checks/checks.hpp"

namespace haftwright {

/// What findings are sampled with where nobody asks for another number: enough for shares to within half a
/// per cent, few enough to keep a check quick. The same handles each time.
inline const SampleSettings kFindingSamples{.samples = 10'000, .seed = 1};

/// Ids and titles, as those of check_kinds().
struct LineUpKind {
  std::string_view id;
  std::string_view title;
};
std::span<const LineUpKind> line_up_kinds();

/// Against the shop's rules, how the design's own way of drilling turns out:
/// - line_up.way: that it can be used at all; nothing else is found where it can't;
/// - line_up.pins: that pins hold both scales in line while they are glued, unless the shop lets glue alone
///   hold the pieces;
/// - line_up.bind: the share of handles whose pins bind, with what eases it;
/// - line_up.step: the share of handles that show a step or an angle, with the place where it shows most.
/// `way` is assess_own_way() of the design.
std::vector<Finding> line_up_findings(const Design& design, const WayReport& way);
/// The same, sampled with kFindingSamples.
std::vector<Finding> line_up_findings(const Design& design, const Handle& handle);

/// All there is to say of a handle: the findings of run_checks() and those of its line-up.
std::vector<Finding> all_findings(const Design& design, const Handle& handle);

}  // namespace haftwright
