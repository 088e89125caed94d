// What verbs that begin a project have in common.
#pragma once

#include "haftwright/design/shop.hpp"
#include "verbs.hpp"

namespace haftwright::command {

/// The unit of that name: mm, inch, inch_fraction.
LengthUnit length_unit_named(const std::string& name);

/// Gives the design the shop's values and the file's name, checks it and writes it. Throws InputError for
/// what keeps it from being a project.
void write_new_project(Design design, const Shop& shop, const std::filesystem::path& project, bool replace);

}  // namespace haftwright::command
