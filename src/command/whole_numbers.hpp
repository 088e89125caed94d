// Whole numbers as people type them for large counts: 10000000, 1e7, 2.5e6.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace haftwright::command {

/// The number; none where it is no whole number from 0 to 2^64 - 1 in one of these notations.
std::optional<std::uint64_t> whole_number(std::string_view text);

}  // namespace haftwright::command
