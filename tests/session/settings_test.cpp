#include <catch2/catch.hpp>

#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/settings.hpp"
#include "temporary_folder.hpp"

namespace haftwright {
namespace {

using test::TemporaryFolder;

Settings unusual() {
  Settings settings;
  settings.unit = LengthUnit::inch_fraction;
  settings.theme = Theme::light;
  settings.text_scale = 1.3;
  settings.window_width = 1999;
  settings.window_height = 777;
  settings.hint_seen = true;
  settings.recent = {"/shop/a knife.json", "/shop/M\xC3\xB6we.json", "/shop/\"quoted\".json"};
  return settings;
}

}  // namespace

TEST_CASE("settings come back as they were written") {
  const TemporaryFolder folder;
  const auto place = folder / "not/there/yet";
  for (const Settings& settings : {unusual(), Settings{}}) {
    save_settings(settings, place);
    const LoadedSettings loaded = load_settings(place);
    CHECK(loaded.settings == settings);
    CHECK(loaded.report.empty());
  }
  CHECK(test::entries_in(place) == 1);
}

TEST_CASE("without a file there are the defaults and nothing is reported") {
  const TemporaryFolder folder;
  const LoadedSettings loaded = load_settings(folder / "nowhere");
  CHECK(loaded.settings == Settings{});
  CHECK(loaded.report.empty());
}

TEST_CASE("broken settings are set aside and reported") {
  for (const std::string text :
       {"", "{", "[]", "7", "{\"theme\": \"light\"", "\xFF\xFE", "null", "{\"theme\": \"light\"} and more"}) {
    CAPTURE(text);
    const TemporaryFolder folder;
    test::put(folder / "settings.json", text);
    const LoadedSettings loaded = load_settings(folder.path());
    CHECK(loaded.settings == Settings{});
    CHECK(loaded.report.find("settings.json.broken") != std::string::npos);
    CHECK(test::bytes_of(folder / "settings.json.broken") == text);
    // Told once: the next start finds nothing wrong.
    CHECK(load_settings(folder.path()).report.empty());
    save_settings(unusual(), folder.path());
    CHECK(load_settings(folder.path()).settings == unusual());
  }
}

TEST_CASE("settings too large to be ours are set aside") {
  const TemporaryFolder folder;
  test::put(folder / "settings.json", std::string(2u << 20, ' ') + "{}");
  CHECK_FALSE(load_settings(folder.path()).report.empty());
}

TEST_CASE("a value that can't be used falls back alone") {
  const TemporaryFolder folder;
  test::put(folder / "settings.json", R"({
    "units": "furlong", "theme": 3, "text_scale": 400, "window_width": "wide", "window_height": 900,
    "hint_seen": true, "recent": ["/a.json", 5, "", "/b.json", "/a.json", null], "from a later version": {}})");
  const LoadedSettings loaded = load_settings(folder.path());
  Settings expected;
  expected.window_height = 900;
  expected.hint_seen = true;
  expected.recent = {"/a.json", "/b.json"};
  CHECK(loaded.settings == expected);
  CHECK(loaded.report.empty());
  for (const char* scale : {"-1", "0", "0.49", "4.1", "1e999", "null", "\"1\""}) {
    test::put(folder / "settings.json", std::string("{\"text_scale\": ") + scale + "}");
    CHECK(load_settings(folder.path()).settings.text_scale == 1);
  }
}

TEST_CASE("recent files: newest first, each once, no more than a dozen, absolute") {
  Settings settings;
  for (int i = 0; i < 20; ++i) add_recent(settings, "/shop/" + std::to_string(i) + ".json");
  REQUIRE(settings.recent.size() == Settings::kMostRecent);
  CHECK(settings.recent.front() == "/shop/19.json");
  CHECK(settings.recent.back() == "/shop/8.json");
  add_recent(settings, "/shop/./x/../12.json");
  CHECK(settings.recent.size() == Settings::kMostRecent);
  CHECK(settings.recent[0] == "/shop/12.json");
  CHECK(settings.recent[1] == "/shop/19.json");
  CHECK(std::count(settings.recent.begin(), settings.recent.end(), "/shop/12.json") == 1);
  add_recent(settings, "knife.json");
  CHECK(settings.recent[0] == std::filesystem::current_path() / "knife.json");
  remove_recent(settings, "knife.json");
  CHECK(settings.recent[0] == "/shop/12.json");
}

TEST_CASE("a path that JSON can't hold is left out, the rest is kept") {
  const TemporaryFolder folder;
  Settings settings = unusual();
  settings.recent.insert(settings.recent.begin(), "/shop/\xFF\xFE.json");
  save_settings(settings, folder.path());
  CHECK(load_settings(folder.path()).settings == unusual());
}

TEST_CASE("settings that can't be written are an OutputError") {
  const TemporaryFolder folder;
  test::put(folder / "file", "in the way");
  CHECK_THROWS_AS(save_settings({}, folder / "file"), OutputError);
  CHECK_THROWS_AS(save_settings({}, folder / "file/below"), OutputError);
}

}  // namespace haftwright
