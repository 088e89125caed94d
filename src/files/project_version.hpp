// What marks a project file, and which format it is in.
#pragma once

#include <string_view>

namespace haftwright::files {

inline constexpr std::string_view kVersionKey = "haftwright";
inline constexpr int kProjectVersion = 1;

}  // namespace haftwright::files
