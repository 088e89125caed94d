// Values taken over from the shop into a project and back: all of them, and nothing else.
#include "haftwright/edits/shop_values.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/validate.hpp"
#include "support/designs.hpp"
#include "support/random_design.hpp"
#include "support/random_shop.hpp"

using namespace haftwright;

namespace {

constexpr std::uint64_t kSeeds = 300;

/// The design with its shop's part set to another design's: what is left must be equal.
Design without_shop_part(Design design) {
  return with_shop_values(design, Shop{});
}

std::vector<std::string> fields_of(const std::vector<ShopDifference>& found) {
  std::vector<std::string> fields;
  for (const ShopDifference& difference : found) fields.push_back(difference.field);
  return fields;
}

std::vector<std::string> fields_of(const std::vector<MeasuredHole>& found) {
  std::vector<std::string> fields;
  for (const MeasuredHole& hole : found) fields.push_back(hole.field);
  return fields;
}

Shop owning(std::vector<OwnedDrill> drills) {
  Shop shop;
  shop.drills = std::move(drills);
  return shop;
}

}  // namespace

TEST_CASE("equal values are no difference") {
  CHECK(differences(Design{}, Shop{}).empty());
  CHECK(differences(test::starter(), Shop{}).empty());
  // What only a project or only a shop has, neither.
  Design design = test::starter();
  design.drilling.one_block = true;
  design.guide.plate_thickness_mm = 20;
  design.guide.fence_height_mm = 7;
  design.guide.blank_allowance_mm = 1;
  CHECK(differences(design, owning({{"#30", 3.3, ""}})).empty());
}

TEST_CASE("a difference tells field, meaning, unit and both values") {
  Design design = test::starter();
  Shop shop;
  shop.adhesive.mix_by = MixBy::weight;
  shop.guide.bushing_outside_mm = 10;
  design.guide.wedged = false;
  shop.rules.edge_wall_mm = 3;
  design.drilling.errors.sight_mm = 0.07;
  const std::vector<ShopDifference> found = differences(design, shop);
  const std::vector<ShopDifference> wanted = {
      {"adhesive.mix_by", "what the ratio is given by", "", std::string("volume"), std::string("weight")},
      {"guide.wedged", found.at(1).what, "", false, true},
      {"guide.bushing_outside_mm",
       "outside diameter of drill bushings; left out: plain bores",
       "mm",
       {},
       10.0},
      {"rules.edge_wall_mm", rule_row(&ShopRules::edge_wall_mm).what, "mm", 2.0, 3.0},
      {"drilling.errors.sight_mm", error_row(&ShopErrors::sight_mm).what, "mm", 0.07, 0.1}};
  CHECK(found == wanted);
}

TEST_CASE(
    "values are written as the file holds them, with inches beside millimetres where inches are shown") {
  using enum LengthUnit;
  CHECK(value_words({}, "mm", millimetre) == "left out");
  CHECK(value_words(true, "", inch) == "true");
  CHECK(value_words(std::string("by_eye"), "", inch) == "by_eye");
  CHECK(value_words(0.25, "share", inch) == "0.25 share");
  CHECK(value_words(0.5, "", millimetre) == "0.5");
  CHECK(value_words(3.175, "mm", millimetre) == "3.175 mm");
  CHECK(value_words(3.175, "mm", inch_fraction) == "3.175 mm (0.1250 in)");
}

TEST_CASE("every rule and every error of the shop is taken over") {
  for (const RuleRow& row : rule_rows()) {
    CAPTURE(row.key);
    Shop shop;
    shop.rules.*row.member += 0.001;
    CHECK(fields_of(differences(Design{}, shop)) == std::vector{"rules." + std::string(row.key)});
    CHECK(with_shop_values(Design{}, shop).rules == shop.rules);
  }
  for (const ErrorRow& row : error_rows()) {
    CAPTURE(row.key);
    Shop shop;
    shop.drilling.errors.*row.member += 0.001;
    CHECK(fields_of(differences(Design{}, shop)) == std::vector{"drilling.errors." + std::string(row.key)});
    CHECK(with_shop_values(Design{}, shop).drilling.errors == shop.drilling.errors);
  }
}

TEST_CASE("after taking over in either direction nothing differs, and nothing else has changed") {
  std::size_t met = 0;
  for (std::uint64_t seed = 0; seed < kSeeds; ++seed) {
    CAPTURE(seed);
    const Design design = test::random_design(seed);
    const Shop shop = test::random_shop(seed + 1000);
    met += differences(design, shop).size();

    const Design taken = with_shop_values(design, shop);
    REQUIRE(differences(taken, shop).empty());
    REQUIRE(validate(taken).empty());
    REQUIRE(without_shop_part(taken) == without_shop_part(design));
    REQUIRE(taken.drilling.one_block == design.drilling.one_block);
    REQUIRE(with_shop_values(taken, shop) == taken);

    const Shop learnt = shop_with_project_values(shop, design);
    REQUIRE(differences(design, learnt).empty());
    REQUIRE(validate(learnt).empty());
    REQUIRE(learnt.drills == shop.drills);
    // There and back again.
    REQUIRE(with_shop_values(taken, learnt) == design);
    REQUIRE(shop_with_project_values(learnt, taken) == shop);
  }
  CHECK(met > 40 * kSeeds);
}

TEST_CASE("one field, or one section, is taken over by itself") {
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    CAPTURE(seed);
    const Design design = test::random_design(seed);
    const Shop shop = test::random_shop(seed + 1000);
    const std::vector<ShopDifference> before = differences(design, shop);
    for (std::size_t i = 0; i < before.size(); ++i) {
      CAPTURE(before[i].field);
      REQUIRE(shop_field_problem(before[i].field).empty());
      std::vector<ShopDifference> left = before;
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(i));
      const Design taken = with_shop_values(design, shop, {before[i].field});
      REQUIRE(differences(taken, shop) == left);
      REQUIRE(without_shop_part(taken) == without_shop_part(design));
      REQUIRE(differences(design, shop_with_project_values(shop, design, {before[i].field})) == left);
    }
    const Design ruled = with_shop_values(design, shop, {"rules", "drilling.errors"});
    CHECK(ruled.rules == shop.rules);
    CHECK(ruled.drilling.errors == shop.drilling.errors);
    CHECK(ruled.drilling.way == design.drilling.way);
    CHECK(ruled.adhesive == design.adhesive);
    CHECK(ruled.guide == design.guide);
  }
}

TEST_CASE("what is no field of both is named as such, with the nearest that is") {
  CHECK(shop_field_problem("rules").empty());
  CHECK(shop_field_problem("drilling.errors").empty());
  CHECK(shop_field_problem("guide.bushing_outside_mm").empty());
  CHECK(shop_field_problem("rules.edge_wal_mm").find("did you mean \"rules.edge_wall_mm\"?") !=
        std::string::npos);
  for (const char* none : {"", "drills", "guide.plate_thickness_mm", "drilling.one_block", "rules.", "rule"})
    CHECK_FALSE(shop_field_problem(none).empty());
  CHECK(with_shop_values(test::starter(), test::random_shop(1), {"rule"}) == test::starter());
}

TEST_CASE("a hole drilled with a measured drill takes the measured hole") {
  // Its three pins are drilled 3.1 mm through scales, liners and tang.
  Design design = test::starter();
  const Shop shop = owning({{"3.10 mm", 3.14, ""}, {"3.2 mm", 3.25, ""}, {"#30", std::nullopt, ""}});
  design.pins[0].scale_hole.diameter_mm = 3.12;  // measured already
  design.pins[1].liner_hole = {"3.2 mm", {}};    // another drill
  design.pins[1].scale_hole = {"#30", {}};       // owned, not measured
  design.pins[2].scale_hole = {"", 3.1};         // typed
  design.pins[2].tang_hole = {};
  design.tang.holes = {{"rear", design.pins[2].at_mm, 3.1}};
  design.pins[2].existing_tang_hole = "rear";
  CHECK(fields_of(measured_holes(design, shop)) ==
        std::vector<std::string>{"pins[0].liner_hole.diameter_mm", "pins[0].tang_hole.diameter_mm",
                                 "pins[1].liner_hole.diameter_mm", "pins[1].tang_hole.diameter_mm",
                                 "pins[2].liner_hole.diameter_mm"});
  const Design measured = with_measured_holes(design, shop);
  Design wanted = design;
  for (HoleSize* hole : {&wanted.pins[0].liner_hole, &wanted.pins[0].tang_hole, &wanted.pins[1].tang_hole,
                         &wanted.pins[2].liner_hole})
    hole->diameter_mm = 3.14;
  wanted.pins[1].liner_hole.diameter_mm = 3.25;
  CHECK(measured == wanted);
  CHECK(validate(measured).empty());
  CHECK(hole_range(measured.pins[0].tang_hole).measured);
  CHECK(measured_holes(measured, shop).empty());
  CHECK(measured_holes(design, Shop{}).empty());
}

TEST_CASE("a hole measured in wood is none in steel, and the other way round") {
  Design design = test::starter();
  design.left.liners = {{"g10", 0.8}};
  design.pins.resize(1);
  const auto holes = [&](const char* measured_in) {
    return fields_of(measured_holes(design, owning({{"3.1 mm", 3.14, measured_in}})));
  };
  const std::string scale = "pins[0].scale_hole.diameter_mm";
  const std::string liner = "pins[0].liner_hole.diameter_mm";
  const std::string tang = "pins[0].tang_hole.diameter_mm";
  CHECK(holes("") == std::vector{scale, liner, tang});
  CHECK(holes("sugar_maple") == std::vector{scale, liner});
  CHECK(holes("tool_steel") == std::vector{tang});
  design.left.liners = {{"copper", 0.8}};
  CHECK(holes("sugar_maple") == std::vector{scale});
  CHECK(holes("tool_steel") == std::vector{liner, tang});
  // A metal front piece and wood behind it: which of both the pin goes through is not told here.
  design.left.pieces[0].material = "brass_c36000";
  CHECK(holes("sugar_maple").empty());
  CHECK(holes("tool_steel") == std::vector{liner, tang});
  design.left.pieces[1].material = "copper";
  CHECK(holes("tool_steel") == std::vector{scale, liner, tang});
  // The right side counts too.
  design.right.pieces = std::vector<Piece>(2, {"black_walnut", {}, {}});
  CHECK(holes("tool_steel") == std::vector{liner, tang});
}

TEST_CASE("a drill measured in wood and in steel makes either hole") {
  const Design design = test::starter();
  const Shop shop = owning({{"3.1 mm", 3.08, "tool_steel"}, {"3.1 mm", 3.14, "sugar_maple"}});
  REQUIRE(validate(shop).empty());
  const Design measured = with_measured_holes(design, shop);
  for (const Pin& pin : measured.pins) {
    CHECK(pin.scale_hole.diameter_mm == 3.14);
    CHECK(pin.liner_hole.diameter_mm == 3.14);
    CHECK(pin.tang_hole.diameter_mm == 3.08);
  }
}

TEST_CASE("a project that begins in the shop differs from it in nothing") {
  for (std::uint64_t seed = 0; seed < 50; ++seed) {
    CAPTURE(seed);
    const Shop shop = test::random_shop(seed);
    const Design begun = with_shop(test::starter(), shop);
    CHECK(differences(begun, shop).empty());
    CHECK(measured_holes(begun, shop).empty());
  }
  CHECK(with_shop(test::starter(), Shop{}) == test::starter());
}
