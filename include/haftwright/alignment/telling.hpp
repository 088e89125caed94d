// What of a long report a maker has to read, and in which words.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {

/// Where a measure is taken; an angle has no height of its own along its line.
Where measure_place(const LineUp& line_up, std::size_t measure);

/// How often pins bind; of WayReport::interference by how much, and what eases it.
std::string pins_words(const Design& design, const WayReport& way);

/// LineUpReport::summary of all the rest of a report.
std::vector<SummaryLine> summary_lines(const Design& design, const LineUpReport& report);

/// Of the lines of a joint, those that part most at each of its ends; the others run beside them. Indices of
/// measures, in the order of the stack.
std::vector<std::size_t> telling_measures(const WayReport& way);

}  // namespace haftwright
