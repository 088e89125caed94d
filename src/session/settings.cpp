#include "haftwright/session/settings.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/design/schema.hpp"
#include "haftwright/files/safe_write.hpp"
#include "small_files.hpp"

namespace haftwright {

using namespace session;
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr std::size_t kMostBytes = 1u << 20;
constexpr const char* kFile = "settings.json";
constexpr const char* kBrokenFile = "settings.json.broken";
constexpr schema::Named<Theme> kThemeNames[] = {{"dark", Theme::dark}, {"light", Theme::light}};

/// JSON holds UTF-8 only; the rare path that is something else is not remembered.
bool can_be_kept(const std::string& path) {
  return !path.empty() && schema::text_problem(path).empty();
}

template <class Names>
std::string word_for(const Names& names, auto value) {
  const auto found = std::ranges::find(names, value, [](const auto& named) { return named.value; });
  return std::string(found->name);
}

/// Reads one value after the other and passes over what can't be used.
class Reader {
 public:
  explicit Reader(const Json& json) : json_(json) {}

  void flag(const char* key, bool& value) const {
    if (const Json* found = find(key); found && found->is_boolean()) value = found->get<bool>();
  }
  void number(const char* key, double& value, double least, double most) const {
    const Json* found = find(key);
    if (!found || !found->is_number()) return;
    const double read = found->get<double>();
    if (read >= least && read <= most) value = read;
  }
  void number(const char* key, int& value, int least, int most) const {
    double read = value;
    number(key, read, least, most);
    value = static_cast<int>(std::lround(read));
  }
  template <class Names, class Value>
  void choice(const char* key, const Names& names, Value& value) const {
    const Json* found = find(key);
    if (!found || !found->is_string()) return;
    for (const auto& named : names)
      if (named.name == found->get_ref<const std::string&>()) value = named.value;
  }
  /// Rows that are named come first, the others behind them as they stood.
  void order(const char* key, std::vector<nesting::Preference>& order) const {
    const Json* found = find(key);
    if (!found || !found->is_array()) return;
    std::vector<nesting::Preference> read;
    const auto take = [&](nesting::Preference what) {
      if (std::ranges::find(read, what) == read.end()) read.push_back(what);
    };
    for (const Json& entry : *found)
      for (const PreferenceRow& row : preference_rows())
        if (entry.is_string() && entry.get_ref<const std::string&>() == row.key) take(row.what);
    for (const nesting::Preference what : order) take(what);
    order = std::move(read);
  }
  void path(const char* key, fs::path& path) const {
    const Json* found = find(key);
    if (found && found->is_string() && !found->get_ref<const std::string&>().empty())
      path = full_path(found->get<std::string>());
  }
  void paths(const char* key, std::vector<fs::path>& paths) const {
    const Json* found = find(key);
    if (!found || !found->is_array()) return;
    for (const Json& entry : *found) {
      if (!entry.is_string() || entry.get_ref<const std::string&>().empty()) continue;
      const fs::path path = full_path(entry.get<std::string>());
      if (paths.size() < Settings::kMostRecent && std::ranges::find(paths, path) == paths.end())
        paths.push_back(path);
    }
  }

 private:
  const Json* find(const char* key) const {
    const auto found = json_.find(key);
    return found == json_.end() ? nullptr : &*found;
  }
  const Json& json_;
};

Settings settings_from(const Json& json) {
  Settings settings;
  const Reader read(json);
  read.choice("units", schema::kUnitNames, settings.unit);
  read.choice("theme", kThemeNames, settings.theme);
  read.number("text_scale", settings.text_scale, Settings::kLeastTextScale, Settings::kMostTextScale);
  read.number("window_width", settings.window_width, Settings::kLeastWindow, Settings::kMostWindow);
  read.number("window_height", settings.window_height, Settings::kLeastWindow, Settings::kMostWindow);
  read.flag("hint_seen", settings.hint_seen);
  read.paths("recent", settings.recent);
  read.order("cutting_order", settings.cutting_order);
  read.path("bin", settings.bin);
  return settings;
}

std::string set_aside(const fs::path& folder) {
  std::error_code error;
  fs::rename(folder / kFile, folder / kBrokenFile, error);
  const std::string where = (folder / kFile).string();
  if (error) return "The settings in " + where + " can't be read, so the usual ones are used.";
  return "The settings in " + where + " could not be understood. They were set aside as " + kBrokenFile +
         " and the usual ones are used.";
}

}  // namespace

void add_recent(Settings& settings, const fs::path& path) {
  remove_recent(settings, path);
  settings.recent.insert(settings.recent.begin(), full_path(path));
  if (settings.recent.size() > Settings::kMostRecent) settings.recent.resize(Settings::kMostRecent);
}

void remove_recent(Settings& settings, const fs::path& path) {
  std::erase(settings.recent, full_path(path));
}

LoadedSettings load_settings(const fs::path& folder) {
  std::error_code error;
  if (!fs::exists(folder / kFile, error)) return {};
  const auto text = read_text(folder / kFile, kMostBytes);
  const Json json = text ? Json::parse(*text, nullptr, false) : Json();
  if (!json.is_object()) return {{}, set_aside(folder)};
  return {settings_from(json), ""};
}

void save_settings(const Settings& settings, const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) throw OutputError(folder.string() + ": the folder can't be made: " + error.message());
  Json recent = Json::array();
  for (const fs::path& path : settings.recent)
    if (can_be_kept(path.string())) recent.push_back(path.string());
  Json order = Json::array();
  for (const nesting::Preference what : settings.cutting_order)
    for (const PreferenceRow& row : preference_rows())
      if (row.what == what) order.push_back(row.key);
  Json json = {{"units", word_for(schema::kUnitNames, settings.unit)},
               {"theme", word_for(kThemeNames, settings.theme)},
               {"text_scale", settings.text_scale},
               {"window_width", settings.window_width},
               {"window_height", settings.window_height},
               {"hint_seen", settings.hint_seen},
               {"recent", recent},
               {"cutting_order", order}};
  if (can_be_kept(settings.bin.string())) json["bin"] = settings.bin.string();
  write_file_safely(folder / kFile, json.dump(2) + "\n");
}

}  // namespace haftwright
