// What the program remembers from one day to the next, kept as JSON in the platform's config folder.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/design/units.hpp"

namespace haftwright {

enum class Theme { dark, light };

struct Settings {
  static constexpr std::size_t kMostRecent = 12;
  static constexpr double kLeastTextScale = 0.5;
  static constexpr double kMostTextScale = 4;
  static constexpr int kLeastWindow = 320;
  static constexpr int kMostWindow = 16384;

  LengthUnit unit = LengthUnit::millimetre;  ///< for new projects; an opened one brings its own
  Theme theme = Theme::dark;
  double text_scale = 1;    ///< on top of the screen's own scale
  int window_width = 1280;  ///< screen units
  int window_height = 800;
  bool hint_seen = false;                     ///< the first-run hint was shown and closed
  std::vector<std::filesystem::path> recent;  ///< project files, newest first, absolute

  /// What counts among cutting plans that place as much, the most important first; each once.
  std::vector<nesting::Preference> cutting_order = CuttingWishes{}.order;

  std::filesystem::path bin;  ///< the bin of offcuts in force, absolute; empty: bin_file()

  bool operator==(const Settings&) const = default;
};

/// Puts `path` first (made absolute) and drops the oldest over kMostRecent.
void add_recent(Settings& settings, const std::filesystem::path& path);
void remove_recent(Settings& settings, const std::filesystem::path& path);

struct LoadedSettings {
  Settings settings;
  std::string report;  ///< what was wrong, in plain words; empty when nothing was
};
/// Reads settings.json in `folder`. Never throws: no file gives the defaults; unknown keys and unusable
/// values are passed over (defaults for those); a file that is no JSON is set aside as
/// "settings.json.broken" and reported.
LoadedSettings load_settings(const std::filesystem::path& folder);
/// Makes the folder when there is none. Throws OutputError.
void save_settings(const Settings& settings, const std::filesystem::path& folder);

}  // namespace haftwright
