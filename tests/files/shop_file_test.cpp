// The shop file: read as strictly as a project, written as safely.
#include "haftwright/files/shop_file.hpp"

#include <catch2/catch.hpp>

#include "good_file.hpp"
#include "haftwright/design/shop_schema.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/files/project_file.hpp"
#include "own_folder.hpp"
#include "support/random_shop.hpp"

using namespace haftwright;
namespace fs = std::filesystem;

namespace {

const std::string kGoodShop = R"({
  "haftwright_shop": 1,
  "drills": [
    {"drill": "3.1 mm", "diameter_mm": 3.14, "measured_in": "black_walnut"},
    {"drill": "1/8", "diameter_mm": "0.1265 in"},
    {"drill": "#30"}
  ],
  "adhesive": {"mix_by": "weight", "resin_parts": 100, "hardener_parts": 47},
  "guide": {"bushing_outside_mm": "3/8 in", "wedged": false},
  "rules": {"edge_wall_mm": 2.5},
  "drilling": {"way": "taped", "errors": {"sight_mm": 0.07}}
}
)";

/// What reading ends in: "accepted", or what the maker is told.
std::string said(const std::string& text) {
  try {
    parse_shop(text);
    return "accepted";
  } catch (const InputError& error) {
    return error.what();
  }
}

std::string with(const std::string& from, const std::string& to) {
  std::string text = kGoodShop;
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a good shop file is read, what it leaves out at its default") {
  const Shop shop = parse_shop(kGoodShop);
  REQUIRE(shop.drills.size() == 3);
  CHECK(shop.drills[0] == OwnedDrill{"3.1 mm", 3.14, "black_walnut"});
  CHECK(shop.drills[1].diameter_mm == Approx(0.1265 * 25.4).epsilon(1e-15));
  CHECK(shop.drills[2] == OwnedDrill{"#30", std::nullopt, ""});
  CHECK(shop.adhesive.hardener_parts == 47);
  CHECK(shop.adhesive.cup_loss_ml == Adhesive{}.cup_loss_ml);
  CHECK(shop.guide.bushing_outside_mm == Approx(9.525).epsilon(1e-15));
  CHECK_FALSE(shop.guide.wedged);
  CHECK(shop.rules.edge_wall_mm == 2.5);
  CHECK(shop.rules.spacing_diameters == ShopRules{}.spacing_diameters);
  CHECK(shop.drilling.way == DrillWay::taped);
  CHECK(shop.drilling.errors.sight_mm == 0.07);
  CHECK(parse_shop("{\"haftwright_shop\": 1}") == Shop{});
}

TEST_CASE("what was written of a shop reads back equal, and a second text is the first, byte for byte") {
  for (std::uint64_t seed = 0; seed < 500; ++seed) {
    CAPTURE(seed);
    const Shop shop = test::random_shop(seed);
    const std::string text = shop_text(shop);
    REQUIRE(parse_shop(text) == shop);
    REQUIRE(shop_text(parse_shop(text)) == text);
  }
}

TEST_CASE("mistakes in a shop file are told with the field and what would be right") {
  const std::pair<std::string, std::string> cases[] = {
      {with("\"edge_wall_mm\"", "\"edge_wal_mm\""),
       "rules: unknown key \"edge_wal_mm\"; did you mean \"edge_wall_mm\"?"},
      {with("\"sight_mm\": 0.07", "\"sight_mm\": -1"),
       "drilling.errors.sight_mm: must be from 0 to 10 mm, but is -1"},
      {with("\"sight_mm\": 0.07", "\"sight_mm\": null"), "drilling.errors.sight_mm: must be a number of mm"},
      {with("\"taped\"", "\"tapped\""), "drilling.way: must be one of \"by_eye\", "},
      {with("\"3/8 in\"", "\"3/8\""), "guide.bushing_outside_mm: "},
      {with("{\"drill\": \"#30\"}", "{}"), "drills[2].drill: is missing"},
      {with("{\"drill\": \"#30\"}", "{\"drill\": \"#300\"}"),
       "drills[2].drill: no listed drill is called \"#300\""},
      {with("{\"drill\": \"#30\"}", "{\"drill\": \"1/8 in\"}"),
       "drills[2].drill: is \"1/8 in\", which stands further up"},
      {with("\"drills\": [", "\"drills\": [7, "), "drills[0]: must be an object, but is a number"},
      {with("\"black_walnut\"", "\"unobtainium\""),
       "drills[0].measured_in: no material is called \"unobtainium\""},
      {with("\"edge_wall_mm\": 2.5", "\"glue_clearance_least_mm\": 1"),
       "rules.glue_clearance_least_mm: must not be more than"},
      // What only a project decides is no field of the shop.
      {with("\"wedged\": false", "\"plate_thickness_mm\": 12"), "guide: unknown key \"plate_thickness_mm\""},
      {with("\"way\": \"taped\"", "\"one_block\": true"), "drilling: unknown key \"one_block\""},
      {with("\"haftwright_shop\": 1", "\"haftwright_shop\": 2"),
       "haftwright_shop: this shop file was saved by a newer Haftwright (format 2)"},
      {with("\"haftwright_shop\": 1", "\"haftwright_shop\": 0"),
       "haftwright_shop: must be the number of the format"},
      {with("\"haftwright_shop\": 1,", ""),
       "haftwright_shop: is missing: a shop file begins with \"haftwright_shop\": 1"},
      {"[]", "is no Haftwright shop file: it must be one JSON object"},
      {"{\"haftwright_shop\": 1", "line 1, column 22: not valid JSON"},
      {std::string(limits::kFileBytes + 1, ' '),
       "is larger than 4194304 bytes, the most a shop file may have"}};
  for (const auto& [text, wanted] : cases) {
    const std::string told = said(text);
    INFO("told:   " << told << "\nwanted: " << wanted);
    CHECK(told.starts_with(wanted));
    CHECK(told.find('\n') == std::string::npos);
  }
}

TEST_CASE("a project and a shop file are not taken for each other") {
  CHECK(said(test::kGoodFile) ==
        "haftwright_shop: is missing: this is a Haftwright project; a shop file begins with "
        "\"haftwright_shop\": 1");
  CHECK_THROWS_WITH(
      parse_project(kGoodShop),
      "haftwright: is missing: this is a Haftwright shop file; a project begins with \"haftwright\": 2");
}

TEST_CASE("without a file the built-in defaults are in force; one that can't be read is an error") {
  const test::Folder folder;
  CHECK(read_shop(folder / "none.json") == Shop{});
  CHECK(read_shop(folder.path() / "no folder" / "none.json") == Shop{});
  CHECK_THROWS_WITH(read_shop(folder.path()), Catch::Contains("can't be read"));
  test::put(folder / "shop.json", "not a shop");
  CHECK_THROWS_AS(read_shop(folder / "shop.json"), InputError);
  // A file where a folder should be is no missing file.
  CHECK_THROWS_AS(read_shop(folder.path() / "shop.json" / "below"), InputError);
}

TEST_CASE("a shop is written into a folder made for it, and nothing bad is written over what is there") {
  const test::Folder folder;
  const fs::path path = folder.path() / "not" / "there" / "shop.json";
  const Shop shop = test::random_shop(1);
  write_shop(shop, path);
  CHECK(read_shop(path) == shop);
  const std::string before = test::content(path);
  CHECK_THROWS_AS(write_shop(Shop{}, path, OldFile::refuse), OutputError);
  Shop bad;
  bad.rules.edge_wall_mm = -1;
  CHECK_THROWS_WITH(write_shop(bad, path), Catch::Contains("rules.edge_wall_mm"));
  CHECK(test::content(path) == before);
  CHECK_THROWS_AS(write_shop(shop, path / "below.json"), OutputError);
  CHECK(std::distance(fs::directory_iterator(path.parent_path()), fs::directory_iterator()) == 1);
}
