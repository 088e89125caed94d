// The window. Everything it shows is computed by the core; it holds no rule of its own.
#pragma once

#include <filesystem>

namespace haftwright {

/// Opens the window, on `project` or on the start page when that is empty, and runs until it is closed.
/// Returns an exit code: 0, or 2 when no window can be opened (said on stderr).
int run_window(const std::filesystem::path& project);

}  // namespace haftwright
