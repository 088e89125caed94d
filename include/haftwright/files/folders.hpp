// Where a person's own files lie (XDG Base Directory Specification 0.8).
#pragma once

#include <filesystem>

namespace haftwright {

/// $XDG_CONFIG_HOME/haftwright, or ~/.config/haftwright: settings and unsaved work. A variable that is unset,
/// empty or relative is ignored. Not created.
std::filesystem::path config_folder();

/// The same for $XDG_DATA_HOME and ~/.local/share: what belongs to the shop.
std::filesystem::path data_folder();

}  // namespace haftwright
