// Between text and JSON values: strict in, tidy out. Private to this room.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

namespace haftwright::files {

using Json = nlohmann::json;                 // read: keys found fast, however many
using OrderedJson = nlohmann::ordered_json;  // written: keys in the order of the schema

/// Parses standard JSON and nothing beside it: no comments, no byte order mark, no key twice, no number
/// beyond a double, no more than limits::kNesting levels. Throws InputError with line and column, or with the
/// field that is given twice.
Json parse_json(std::string_view text);

/// Values that fit into a line stand on one line; numbers are the shortest that read back equal.
std::string json_text(const OrderedJson& value);

}  // namespace haftwright::files
