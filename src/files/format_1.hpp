// Project files of format 1, in which pins went through tang holes, and readings were taken from pins, by
// name, and joints were numbered.
#pragma once

#include <vector>

#include "haftwright/design/validate.hpp"
#include "json_text.hpp"

namespace haftwright::files {

/// Makes the root of a project of format 1 one of format 2: ids are made of names and order, and what was
/// referred to by name or number is referred to by them. Reports references that lead to no hole, names that
/// are there twice, and joints that are no number; everything else is left for the reader to judge.
void convert_from_1(Json& root, std::vector<Problem>& problems);

}  // namespace haftwright::files
