// Searching the bin.
#include "haftwright/offcuts/find.hpp"
#include "haftwright/offcuts/bin_words.hpp"

#include <catch2/catch.hpp>

#include "haftwright/offcuts/bin_checks.hpp"
#include "support/random_bin.hpp"

using namespace haftwright;

TEST_CASE("what can't hold a size is left out, and what may is kept, along its grain") {
  Offcut offcut{"a", "", "olive", rectangle({120, 40}), 20};
  Wanted wanted;
  wanted.least = {120, 40};
  wanted.least_thickness_mm = 20;
  CHECK(matches(offcut, wanted));
  offcut.grain.along_deg = 90;
  CHECK_FALSE(matches(offcut, wanted));
  wanted.least = {40, 120};
  CHECK(matches(offcut, wanted));
  wanted.least_thickness_mm = 20.1;
  CHECK_FALSE(matches(offcut, wanted));
}

TEST_CASE("a rectangle that lies in an outline along its grain is never said to be too large for it") {
  test::Random random(11);
  int tried = 0;
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    Bin bin = test::random_bin(seed);
    for (Offcut& offcut : bin.offcuts) {
      offcut.reserved.clear();
      // A square about an inner point fits if its half diagonal is no more than the depth there, however it
      // lies.
      const Outline outline(offcut.outline);
      const double depth = outline.depth_mm(outline.moments().centroid);
      if (depth <= 0) continue;
      Wanted wanted;
      wanted.least.length_mm = wanted.least.width_mm = depth * std::sqrt(2.0) * 0.999;
      REQUIRE(matches(offcut, wanted));
      ++tried;
    }
  }
  CHECK(tried > 500);
}

TEST_CASE("words stand for materials as in a project, the bin's own first") {
  Bin bin;
  CHECK(materials_of_word(bin, "walnut") == std::vector<std::string>{"black_walnut"});
  CHECK(materials_of_word(bin, "maple").size() > 3);
  CHECK(materials_of_word(bin, "marzipan").empty());
  Material own;
  own.key = "maple";
  own.name = "maple";
  own.density_kg_m3 = 600;
  bin.own_materials = {own};
  CHECK(materials_of_word(bin, "maple") == std::vector<std::string>{"maple"});
}

TEST_CASE("what is reserved throughout is left out unless it is asked for") {
  Bin bin;
  bin.offcuts = {{"a", "", "olive", rectangle({120, 40}), 20}, {"b", "", "teak", rectangle({120, 40}), 20}};
  bin.offcuts[0].alike = 2;
  bin.offcuts[0].reserved = {{"one", "left"}, {"one", "right"}};
  bin.offcuts[1].reserved = {{"one", ""}};
  bin.sheets = {{"s", "", "g10", 1, rectangle({50, 100})}};
  bin.sheets[0].reserved = {{"one", ""}};
  bin.rods = {{"r", "", PinStock{}, 90}};
  CHECK(is_free(bin.offcuts[0]));
  CHECK_FALSE(is_free(bin.offcuts[1]));
  CHECK(bin_ids(found_in(bin, {})) == std::vector<std::string>{"a", "s", "r"});
  Wanted wanted;
  wanted.reserved_too = true;
  wanted.least = {100, 30};
  CHECK(bin_ids(found_in(bin, wanted)) == std::vector<std::string>{"a", "b", "s"});
  wanted.materials = {"teak", "g10"};
  CHECK(bin_ids(found_in(bin, wanted)) == std::vector<std::string>{"b", "s"});
  wanted.least_thickness_mm = 5;
  CHECK(bin_ids(found_in(bin, wanted)) == std::vector<std::string>{"b"});
}

TEST_CASE("what others have reserved is counted by project, and one's own is one's own") {
  CHECK(left_for("mine", 1, {}) == 1);
  CHECK(left_for("mine", 1, {{"mine", "left rear"}}) == 1);
  CHECK(left_for("mine", 1, {{"another", "left rear"}}) == 0);
  CHECK(left_for("mine", 2, {{"another", "left rear"}, {"another", "right rear"}}) == 1);
  CHECK(left_for("mine", 2, {{"another", ""}, {"a third", ""}, {"mine", ""}}) == 0);
  CHECK(left_for("mine", 1, {{"another", ""}, {"a third", ""}}) == 0);
}

TEST_CASE("sizes, odd shapes and who has reserved something are written one way") {
  CHECK(sizes_words({127, 40, 22}, LengthUnit::millimetre) == "127.0 x 40.0 x 22.0 mm");
  CHECK(sizes_words({127, 40}, LengthUnit::inch) == "5.00 x 1.57 in");
  CHECK(sizes_words({127, 25.4 * 1.5625}, LengthUnit::inch_fraction) == "5 in x 1 9/16 in");
  CHECK(shape_words(rectangle({30, 20})).empty());
  CHECK(shape_words({{{0, 0}}, {{30, 0}}, {{10, 20}}}) == ", odd shape");
  CHECK(holders_words({}).empty());
  CHECK(holders_words({{"Knife", "left rear"}, {"Other", ""}}) == "Knife (left rear), Other");
  Bin bin;
  CHECK(material_name(bin, "olive") == "olive");
  CHECK(material_name(bin, "unheard_of") == "unheard_of");
  CHECK(material_name(bin, "black_walnut") == "black walnut");
}
