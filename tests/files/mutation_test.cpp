// Files spoilt in every way: each gives a clear error at the place that was spoilt, or a good design.
#include <catch2/catch.hpp>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <sstream>

#include "good_file.hpp"
#include "refusal.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"
#include "support/spoilt_files.hpp"

using namespace haftwright;
using Json = nlohmann::ordered_json;
using test::Place;
using test::places_in;
using test::Reading;

namespace {

/// Good designs stand by themselves: they pass validate() and survive writing and reading.
void check_sound(const Reading& reading) {
  if (reading.refused()) {
    REQUIRE_FALSE(reading.problems.empty());
    for (const Problem& problem : reading.problems) REQUIRE_FALSE(problem.what.empty());
    return;
  }
  REQUIRE(validate(*reading.design).empty());
  REQUIRE(test::read(project_text(*reading.design)).design == reading.design);
}

/// Some problem is about `field` or about something inside it.
bool speaks_of(const Reading& reading, const std::string& field) {
  for (const Problem& problem : reading.problems)
    if (problem.field.starts_with(field)) return true;
  return false;
}

std::vector<Json> files_to_spoil() {
  std::vector<Json> files{Json::parse(test::kGoodFile)};
  for (const std::uint64_t seed : {3u, 14u, 15u, 92u})
    files.push_back(Json::parse(project_text(test::random_design(seed))));
  for (const char* name : {"shucking_knife", "marking_knife", "paring_knife"}) {
    std::ifstream file(std::string(HAFTWRIGHT_PROJECTS "/") + name + ".json");
    REQUIRE(file.good());
    files.push_back(Json::parse(file));
  }
  return files;
}

bool required(const Json& parent, const std::string& key) {
  static const std::vector<std::string> keys{
      "haftwright", "tang",          "sides", "left",     "pieces",     "outline",
      "starter",    "x_mm",          "y_mm",  "place_mm", "nominal_mm", "stock",
      "scale_hole", "density_kg_m3", "kind",  "joint",    "piece",      "offcut"};
  const bool named = std::find(keys.begin(), keys.end(), key) != keys.end();
  if (key == "place_mm") return parent.contains("spacers") || !parent.contains("rake_deg");
  if (key == "kind") return !parent.contains("density_kg_m3") && !parent.contains("reading_mm");
  return named;
}

}  // namespace

TEST_CASE("a key taken away is missed by its path, or was not needed") {
  int refused = 0, accepted = 0;
  test::without_each_value(
      files_to_spoil(), [&](const Json& file, const Place& place, const std::string& text) {
        const Reading reading = test::read(text);
        CAPTURE(place.field, reading.said());
        check_sound(reading);
        (reading.refused() ? refused : accepted)++;
        const Json& parent = file.at(place.pointer.parent_pointer());
        const std::string last = place.pointer.back();
        if (!parent.is_object() || !required(parent, last) ||
            place.parent.find("front") != std::string::npos || place.parent == "sides.right")
          return;
        REQUIRE(reading.refused());
        REQUIRE(speaks_of(reading, last == "starter" ? "tang.outline" : place.field));
      });
  CHECK(refused > 200);
  CHECK(accepted > 200);
}

TEST_CASE("a misspelt key is one problem that names the right one") {
  int checked = 0;
  test::with_each_key_misspelt(
      files_to_spoil(), "haftwright",
      [&](const Json& file, const Place& place, const std::string& misspelt, const std::string& text) {
        const std::string key = place.pointer.back();
        const Reading reading = test::read(text);
        CAPTURE(place.field, misspelt, reading.said());
        REQUIRE(reading.refused());
        // "kind" decides what the other keys of a starter mean, so it is missed before they are looked at.
        if (key == "kind" && !file.at(place.pointer.parent_pointer()).contains("key")) return;
        // Without its starter the tang misses the outline as well.
        REQUIRE(reading.problems.size() == (key == "starter" ? 2 : 1));
        REQUIRE(reading.problems[0].field == place.parent);
        REQUIRE(reading.problems[0].what.find("unknown key \"" + misspelt + "\"; did you mean \"") == 0);
        if (key.size() <= 4) return;
        REQUIRE(reading.problems[0].what.find("did you mean \"" + key + "\"?") != std::string::npos);
        ++checked;
      });
  CHECK(checked > 500);
}

TEST_CASE("a value of the wrong kind is refused by its own path") {
  int checked = 0;
  test::with_each_kind(files_to_spoil(), [&](const Place& place, const std::string& kind, bool same_kind,
                                             const std::string& text) {
    const Reading reading = test::read(text);
    CAPTURE(place.field, kind, reading.said());
    check_sound(reading);
    if (same_kind) return;
    REQUIRE(reading.refused());
    REQUIRE(speaks_of(reading, place.field));
    ++checked;
  });
  CHECK(checked > 5000);
}

TEST_CASE("a number far too large or too small is refused by its own path") {
  int checked = 0;
  test::with_each_number_huge(files_to_spoil(),
                              [&](const Place& place, double huge, const std::string& text) {
                                const Reading reading = test::read(text);
                                CAPTURE(place.field, huge, reading.said());
                                REQUIRE(reading.problems.size() == 1);
                                REQUIRE(reading.problems[0].field == place.field);
                                ++checked;
                              });
  CHECK(checked > 1000);
}

TEST_CASE("a file cut off anywhere is refused") {
  const std::string& whole = test::kGoodFile;
  const std::size_t end = whole.rfind('}');
  for (std::size_t length = 0; length <= end; ++length) {
    const Reading reading = test::read(whole.substr(0, length));
    CAPTURE(length, reading.said());
    REQUIRE(reading.problems.size() == 1);
    REQUIRE(reading.problems[0].field.empty());
    REQUIRE(reading.problems[0].what.find("line ") == 0);
  }
  CHECK_FALSE(test::read(whole.substr(0, end + 1)).refused());
}

TEST_CASE("bytes flipped, added, moved and taken away give a clear error or a good design") {
  std::vector<std::string> files{test::kGoodFile};
  for (const std::uint64_t seed : {3u, 9u, 27u}) files.push_back(project_text(test::random_design(seed)));
  test::Random random(99);
  int refused = 0, accepted = 0;
  for (int i = 0; i < 12000; ++i) {
    const Reading reading = test::read(test::with_bytes_spoilt(files[random.index(files.size())], random));
    CAPTURE(i, reading.said());
    check_sound(reading);
    (reading.refused() ? refused : accepted)++;
  }
  // Both happen, so neither half of the check above is idle.
  CHECK(refused > 5000);
  CHECK(accepted > 200);
}

TEST_CASE("values swapped about within a file give a clear error or a good design") {
  const std::vector<Json> files = files_to_spoil();
  std::vector<std::vector<Place>> places;
  for (const Json& file : files) places.push_back(places_in(file));
  test::Random random(123);
  for (int i = 0; i < 4000; ++i) {
    const std::size_t from = random.index(files.size()), into = random.index(files.size());
    Json spoilt = files[into];
    spoilt.at(places[into][random.index(places[into].size())].pointer) =
        files[from].at(places[from][random.index(places[from].size())].pointer);
    const Reading reading = test::read(spoilt.dump());
    CAPTURE(i, reading.said());
    check_sound(reading);
  }
}
