#include "haftwright/design/design.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <set>

#include "haftwright/design/starters.hpp"
#include "haftwright/design/validate.hpp"

using namespace haftwright;

TEST_CASE("the right side is the left one but for what it overrides") {
  Design design;
  design.left.pieces = {{"olive", {}, {}}, {"pear", {}, {}}};
  design.left.joints = {{30, 10, 5, {}}};
  design.left.liners = {{"g10", 1}};
  design.left.butt_proud_mm = 2;
  CHECK(design.right_side() == design.left);
  CHECK(design.mirrored());

  design.right.joints = design.left.joints;
  CHECK(design.mirrored());  // says it, but differs in nothing

  design.right.joints->front().place_mm = 31;
  design.right.liners = std::vector<Sheet>{};
  design.right.front = FrontFace{1, 2, 3};
  design.right.butt_proud_mm = 0;
  design.right.finish = Finish{{{0, 9}}, 40, 1, 2};
  design.right.pieces = std::vector<Piece>{{"bone", {}, {}}, {"horn", {}, {}}};
  Side wanted = design.left;
  wanted.joints[0].place_mm = 31;
  wanted.liners.clear();
  wanted.front = {1, 2, 3};
  wanted.butt_proud_mm = 0;
  wanted.finish = {{{0, 9}}, 40, 1, 2};
  wanted.pieces = {{"bone", {}, {}}, {"horn", {}, {}}};
  CHECK(design.right_side() == wanted);
  CHECK_FALSE(design.mirrored());
}

TEST_CASE("own materials come before the listed ones") {
  Design design;
  REQUIRE(design.material("olive") == find_material("olive"));
  CHECK(design.material("olivine") == nullptr);
  Material own;
  own.key = "olive";
  own.density_kg_m3 = 1010;
  design.own_materials = {own};
  REQUIRE(design.material("olive") != nullptr);
  CHECK(design.material("olive")->density_kg_m3 == 1010);
}

TEST_CASE("a hole measures what was measured, else what its drill is listed as") {
  CHECK(HoleSize{"#30", std::nullopt}.actual_mm() == Approx(0.1285 * 25.4).epsilon(1e-12));
  CHECK(HoleSize{"1/8", 0.1235 * 25.4}.actual_mm() == 0.1235 * 25.4);
  CHECK(HoleSize{"", 4.2}.actual_mm() == 4.2);
  CHECK(HoleSize{"whatever", 4.2}.actual_mm() == 4.2);
  CHECK_THROWS_AS((HoleSize{}.actual_mm()), std::invalid_argument);
  CHECK_THROWS_AS((HoleSize{"whatever", std::nullopt}.actual_mm()), std::invalid_argument);
}

TEST_CASE("every shop rule has one row, a default within its range, and a basis") {
  // ShopRules holds doubles only, so its size counts them: a rule without a row shows here.
  CHECK(rule_rows().size() * sizeof(double) == sizeof(ShopRules));
  std::set<std::string_view> keys;
  for (const RuleRow& row : rule_rows()) {
    INFO(row.key);
    CHECK(keys.insert(row.key).second);
    CHECK(&rule_row(row.member) == &row);
    CHECK(row.least <= ShopRules{}.*row.member);
    CHECK(ShopRules{}.*row.member <= row.most);
    CHECK_FALSE(row.basis.empty());
    CHECK_FALSE(row.what.empty());
  }
}

TEST_CASE("every shop error has one row, a default within its range, and a basis") {
  CHECK(error_rows().size() * sizeof(double) == sizeof(ShopErrors));
  std::set<std::string_view> keys;
  for (const ErrorRow& row : error_rows()) {
    INFO(row.key);
    CHECK(keys.insert(row.key).second);
    CHECK(&error_row(row.member) == &row);
    CHECK(ShopErrors{}.*row.member >= 0);
    CHECK(ShopErrors{}.*row.member <= row.most);
    CHECK_FALSE(row.basis.empty());
    CHECK_FALSE(row.what.empty());
  }
}

TEST_CASE("the joint step is what an eye can part at arm's length") {
  // 1 arc-minute, ordinary visual acuity (encyclopaedia articles on vernier acuity), at 300 mm.
  const double seen_mm = 300 * std::tan(std::numbers::pi / 180 / 60);
  CHECK(seen_mm == Approx(0.087).margin(0.0005));
  CHECK(ShopRules{}.joint_step_mm == std::round(seen_mm * 10) / 10);
  CHECK(rule_row(&ShopRules::joint_step_mm).basis.find("0.087") != std::string_view::npos);
}

TEST_CASE("what an input error says is its problems, one a line") {
  const InputError one("pins[0].x_mm", "is missing");
  CHECK(std::string(one.what()) == "pins[0].x_mm: is missing");
  const InputError two(std::vector<Problem>{{"", "first"}, {"name", "second"}});
  CHECK(std::string(two.what()) == "first\nname: second");
  CHECK(two.problems().size() == 2);
}

TEST_CASE("a design to start from is a good one, in either unit") {
  for (const LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch, LengthUnit::inch_fraction}) {
    for (const auto& outline : {starter_outline(StraightTang{}), starter_outline(BowedTang{})}) {
      const Design design = starter_design(outline, 3.5, unit);
      const auto problems = validate(design);
      INFO((problems.empty() ? "" : problems[0].field + ": " + problems[0].what));
      CHECK(problems.empty());
      CHECK(design.left.pieces.size() == 2);
      CHECK(design.pins.size() == 3);
      CHECK(design.mirrored());
    }
  }
}
