// What marks a project file, and which format it is in.
#pragma once

#include <string_view>

namespace haftwright {

inline constexpr std::string_view kVersionKey = "haftwright";
inline constexpr int kProjectVersion = 1;

}  // namespace haftwright
