// Bins spoilt in every way: each gives a clear error at the place that was spoilt, or a good bin.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>

#include "good_bin.hpp"
#include "haftwright/files/bin_file.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "support/random_bin.hpp"
#include "support/spoilt_files.hpp"

using namespace haftwright;
using Json = nlohmann::ordered_json;
using test::Place;

namespace {

struct Reading {
  std::optional<Bin> bin;
  std::vector<Problem> problems;
  bool refused() const { return !bin; }
  std::string said() const { return refused() ? InputError(problems).what() : "accepted"; }
};

/// An exception of any other kind goes through and fails the test that called.
Reading read(const std::string& text) {
  try {
    return {parse_bin(text), {}};
  } catch (const InputError& error) {
    return {std::nullopt, error.problems()};
  }
}

/// Good bins stand by themselves: they pass validate() and survive writing and reading.
void check_sound(const Reading& reading) {
  if (reading.refused()) {
    REQUIRE_FALSE(reading.problems.empty());
    for (const Problem& problem : reading.problems) REQUIRE_FALSE(problem.what.empty());
    return;
  }
  REQUIRE(validate(*reading.bin).empty());
  REQUIRE(read(bin_text(*reading.bin)).bin == reading.bin);
}

bool speaks_of(const Reading& reading, const std::string& field) {
  for (const Problem& problem : reading.problems)
    if (problem.field.starts_with(field)) return true;
  return false;
}

std::vector<Json> bins_to_spoil() {
  std::vector<Json> bins{Json::parse(test::kGoodBin)};
  std::vector<std::uint64_t> seeds{3};
  if (!std::getenv("HAFTWRIGHT_SHORT")) seeds = {3, 14, 15};
  for (const std::uint64_t seed : seeds) bins.push_back(Json::parse(bin_text(test::random_bin(seed))));
  return bins;
}

bool is_required(const std::string& key) {
  static const std::vector<std::string> keys{
      "haftwright_bin", "material", "thickness_mm", "outline", "size",         "x_mm",
      "y_mm",           "x_px",     "y_px",         "file",    "project",      "length_mm",
      "width_mm",       "stock",    "nominal_mm",   "key",     "density_kg_m3"};
  return std::find(keys.begin(), keys.end(), key) != keys.end();
}

}  // namespace

TEST_CASE("a key taken out of a bin is missed by its path, or was not needed") {
  int refused = 0, accepted = 0;
  test::without_each_value(
      bins_to_spoil(), [&](const Json& file, const Place& place, const std::string& text) {
        const Reading reading = read(text);
        CAPTURE(place.field, reading.said());
        check_sound(reading);
        (reading.refused() ? refused : accepted)++;
        const std::string last = place.pointer.back();
        const bool pins_own = last == "material" && place.parent.find("stock") != std::string::npos;
        if (!file.at(place.pointer.parent_pointer()).is_object() || !is_required(last) || pins_own) return;
        REQUIRE(reading.refused());
        REQUIRE(speaks_of(reading, last == "size" ? place.parent + ".outline" : place.field));
      });
  CHECK(refused > 100);
  CHECK(accepted > 100);
}

TEST_CASE("a misspelt key of a bin is reported with the right one") {
  int checked = 0;
  test::with_each_key_misspelt(
      bins_to_spoil(), "haftwright_bin",
      [&](const Json&, const Place& place, const std::string& misspelt, const std::string& text) {
        const std::string key = place.pointer.back();
        const Reading reading = read(text);
        CAPTURE(place.field, misspelt, reading.said());
        REQUIRE(reading.refused());
        // What has neither an outline nor a size misses that as well.
        const bool shape =
            (key == "size" || key == "outline") && place.parent.find("defects") == std::string::npos;
        REQUIRE(reading.problems.size() == (shape ? 2 : 1));
        const Problem& problem = reading.problems.back();
        REQUIRE(problem.field == place.parent);
        REQUIRE(problem.what.find("unknown key \"" + misspelt + "\"; did you mean \"") == 0);
        if (key.size() <= 4) return;
        REQUIRE(problem.what.find("did you mean \"" + key + "\"?") != std::string::npos);
        ++checked;
      });
  CHECK(checked > 100);
}

TEST_CASE("a value of the wrong kind in a bin is refused by its own path") {
  int checked = 0;
  test::with_each_kind(bins_to_spoil(), [&](const Place& place, const std::string& kind, bool same_kind,
                                            const std::string& text) {
    const Reading reading = read(text);
    CAPTURE(place.field, kind, reading.said());
    check_sound(reading);
    if (same_kind) return;
    REQUIRE(reading.refused());
    REQUIRE(speaks_of(reading, place.field));
    ++checked;
  });
  CHECK(checked > 1500);
}

TEST_CASE("a number of a bin that is far too large or too small is refused by its own path") {
  int checked = 0;
  test::with_each_number_huge(bins_to_spoil(), [&](const Place& place, double huge, const std::string& text) {
    const Reading reading = read(text);
    CAPTURE(place.field, huge, reading.said());
    REQUIRE(reading.problems.size() == 1);
    REQUIRE(reading.problems[0].field == place.field);
    ++checked;
  });
  CHECK(checked > 500);
}

TEST_CASE("a bin cut off anywhere is refused") {
  const std::string& whole = test::kGoodBin;
  for (std::size_t length = 0; length <= whole.rfind('}'); ++length) {
    const Reading reading = read(whole.substr(0, length));
    CAPTURE(length, reading.said());
    REQUIRE(reading.problems.size() == 1);
    REQUIRE(reading.problems[0].what.find("line ") == 0);
  }
}

TEST_CASE("bytes of a bin flipped, added, moved and taken away give a clear error or a good bin") {
  std::vector<std::string> files{test::kGoodBin};
  for (const std::uint64_t seed : {3u, 9u, 27u}) files.push_back(bin_text(test::random_bin(seed)));
  test::Random random(99);
  int refused = 0, accepted = 0;
  for (int i = 0; i < 6000; ++i) {
    const Reading reading = read(test::with_bytes_spoilt(files[random.index(files.size())], random));
    CAPTURE(i, reading.said());
    check_sound(reading);
    (reading.refused() ? refused : accepted)++;
  }
  // Both happen, so neither half of the check above is idle.
  CHECK(refused > 2000);
  CHECK(accepted > 100);
}

TEST_CASE("the sample bin is good, says that it is invented, and stays what it is when saved") {
  const Bin bin = read_bin(HAFTWRIGHT_PROJECTS "/bin.json");
  CHECK(bin.offcuts.size() >= 20);
  CHECK(bin.note.find("Invented") == 0);
  std::ifstream file(HAFTWRIGHT_PROJECTS "/bin.json");
  CHECK(bin_text(bin) == std::string(std::istreambuf_iterator<char>(file), {}));
}
