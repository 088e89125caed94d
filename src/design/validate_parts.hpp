// The parts of validate(): each looks at one part of a Design whose fields are all within their ranges.
#pragma once

#include <string>
#include <vector>

#include "haftwright/design/field_path.hpp"
#include "haftwright/design/validate.hpp"

namespace haftwright::design {

using Problems = std::vector<Problem>;

/// Limits that hold each other.
void validate_rules(const ShopRules& rules, Problems& problems);
/// What is wrong with the label of a drill; empty when nothing is.
std::string drill_problem(const std::string& label);

/// Ids that are there twice, and joints that meet under two of them.
void validate_ids(const Design& design, Problems& problems);
/// Outline, cutouts and holes that are there already.
void validate_tang(const Tang& tang, Problems& problems);
/// Counts and orders on both sides.
void validate_sides(const Design& design, Problems& problems);
/// Holes, and places inside the handle. Tang and sides must be good.
void validate_pins(const Design& design, Problems& problems);

using schema::indexed;

}  // namespace haftwright::design
