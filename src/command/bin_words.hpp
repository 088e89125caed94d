// Offcuts, sheets and rods as text for people and as JSON for programs.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "haftwright/offcuts/bin.hpp"

namespace haftwright::command {

/// One line each, with name, defects, place and reservations below it.
std::string list_text(const Bin& bin);
/// Everything about one of them; empty where nothing has that id.
std::string show_text(const Bin& bin, const std::string& id);
/// The line about it in the list, for "Added: ...".
std::string line_of(const Bin& bin, const std::string& id);

/// {"offcuts": [...], "sheets": [...], "rods": [...]} as in the bin's file, the offcuts with their area and
/// their extent along and across the grain.
nlohmann::ordered_json stocks_json(const Bin& bin);
/// The one of that id, "what" naming which of the three it is; null where nothing has it.
nlohmann::ordered_json stock_json(const Bin& bin, const std::string& id);

}  // namespace haftwright::command
