#include "haftwright/files/folders.hpp"

#include <pwd.h>
#include <unistd.h>

#include <cstdlib>

namespace haftwright {
namespace {

namespace fs = std::filesystem;

fs::path home() {
  const char* home = std::getenv("HOME");
  if (home && *home) return home;
  const passwd* user = getpwuid(getuid());
  return user ? user->pw_dir : "/";
}

fs::path own_folder(const char* variable, const char* below_home) {
  const char* named = std::getenv(variable);
  const fs::path base = named && fs::path(named).is_absolute() ? fs::path(named) : home() / below_home;
  return base / "haftwright";
}

}  // namespace

fs::path config_folder() {
  return own_folder("XDG_CONFIG_HOME", ".config");
}

fs::path data_folder() {
  return own_folder("XDG_DATA_HOME", ".local/share");
}

}  // namespace haftwright
