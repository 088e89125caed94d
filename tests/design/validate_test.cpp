#include "haftwright/design/validate.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <limits>

#include "haftwright/design/quantities.hpp"
#include "haftwright/design/starters.hpp"
#include "nth_number.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

/// Two pieces a side, liners, a drilled pin, a pin in a hole that is there, a cutout: nothing wrong.
Design good_design() {
  Design design;
  design.tang.outline = starter_outline(StraightTang{});
  design.tang.holes = {{"rear", {90, 0}, 5.1}, {"spare", {70, 0}, 3}};
  design.tang.cutouts = {{{{40, 0}, 1}, {{46, 0}, 1}}};
  design.left.liners = {{"g10", 1}};
  design.left.pieces = {{"olive", {}, {}}, {"pear", {}, {}}, {"bone", {}, {}}};
  design.left.joints = {{30, 10, 5, {{"copper", 0.5}}}, {60, 0, 0, {}}};
  design.left.finish.thickness_mm = {{0, 8}, {50, 9}, {100, 8}};
  const HoleSize hole{"5.1 mm", std::nullopt};
  Pin& front = design.pins.emplace_back();
  front.name = "front pin";
  front.at_mm = {15, 0};
  front.stock = {5, 4.98, 0, "brass_c36000"};
  front.scale_hole = front.liner_hole = front.tang_hole = hole;
  Pin rear = front;
  rear.name = rear.existing_tang_hole = "rear";
  rear.at_mm = {90, 0};
  rear.stock = {5, std::nullopt, 3, "copper"};
  rear.tang_hole = {};
  design.pins.push_back(std::move(rear));
  return design;
}

struct Wrong {
  const char* field;
  const char* what;  ///< part of the sentence
  std::function<void(Design&)> spoil;
};

void check_each(const std::vector<Wrong>& wrongs) {
  for (const Wrong& wrong : wrongs) {
    Design design = good_design();
    wrong.spoil(design);
    const auto problems = validate(design);
    INFO(wrong.field << ": " << wrong.what);
    for (const Problem& problem : problems) UNSCOPED_INFO("found " << problem.field << ": " << problem.what);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].field == wrong.field);
    CHECK(problems[0].what.find(wrong.what) != std::string::npos);
  }
}

}  // namespace

TEST_CASE("a good design has no problem") {
  CHECK(validate(good_design()).empty());
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    const auto problems = validate(test::random_design(seed));
    INFO(seed << ": " << (problems.empty() ? "" : problems[0].field + ": " + problems[0].what));
    REQUIRE(problems.empty());
  }
}

TEST_CASE("a tang that can't be is refused at the place that spoils it") {
  check_each({
      {"tang.outline[2]", "", [](Design& d) { d.tang.outline[3].at = d.tang.outline[2].at; }},
      {"tang.outline", "wholly ahead of x = 0",
       [](Design& d) {
         d.tang = {};
         d.tang.outline = {{{-50, -10}, 0}, {{-5, -10}, 0}, {{-5, 10}, 0}, {{-50, 10}, 0}};
         d.pins.clear();
       }},
      {"tang.outline", "must have 2 to 2000 entries, but has 0", [](Design& d) { d.tang.outline.clear(); }},
      {"tang.cutouts[0][0]", "",
       [](Design& d) {
         d.tang.cutouts[0] = {{{40, 0}, 0}, {{46, 0}, 0}};
       }},
      {"tang.cutouts[0]", "inside the tang",
       [](Design& d) {
         d.tang.cutouts[0] = {{{40, 10}, 1}, {{46, 10}, 1}};
       }},
      {"tang.cutouts[0]", "inside the tang",
       [](Design& d) {
         d.tang.cutouts[0] = {{{40, 40}, 1}, {{46, 40}, 1}};
       }},
      {"tang.cutouts[1]", "meets cutout 0",
       [](Design& d) {
         d.tang.cutouts.push_back({{{42, 2}, 1}, {{48, 2}, 1}});
       }},
      {"tang.cutouts[1]", "meets cutout 0",
       [](Design& d) {
         d.tang.cutouts.push_back({{{42, 0}, 1}, {{44, 0}, 1}});
       }},
      {"tang.holes[1]", "inside the tang",
       [](Design& d) {
         d.tang.holes[1].at_mm = {70, 11.5};
       }},
      {"tang.holes[1]", "meets cutout 0",
       [](Design& d) {
         d.tang.holes[1].at_mm = {47, 0};
       }},
      {"tang.holes[1]", "meets hole 1",
       [](Design& d) {
         d.tang.holes[1].at_mm = {86, 0};
       }},
      {"tang.holes[1].id", "second hole", [](Design& d) { d.tang.holes[1].id = "rear"; }},
      {"tang.material", "did you mean \"carbon_steel\"?", [](Design& d) { d.tang.material = "carbon_stel"; }},
  });
}

TEST_CASE("sides whose parts do not fit each other are refused") {
  check_each({
      {"sides.left.pieces", "must have 1 to 64 entries, but has 0", [](Design& d) { d.left.pieces.clear(); }},
      {"sides.left.joints", "so 2 of them, but has 1", [](Design& d) { d.left.joints.pop_back(); }},
      {"sides.left.joints[1].place_mm", "must be more than that of the joint before it, which is 30 mm",
       [](Design& d) { d.left.joints[1].place_mm = 30; }},
      {"sides.right.joints", "so 2 of them, but has 0",
       [](Design& d) { d.right.joints = std::vector<Joint>{}; }},
      {"sides.left.joints", "so 0 of them, but has 2",
       [](Design& d) {
         d.right.pieces = std::vector<Piece>{{"olive", {}, {}}};
       }},
      {"sides.right.joints[1].place_mm", "which is 30 mm",
       [](Design& d) {
         d.right.joints = d.left.joints;
         d.right.joints->at(1).place_mm = 29;
       }},
      {"sides.left.finish.thickness[2].x_mm", "which is 50 mm",
       [](Design& d) { d.left.finish.thickness_mm[2].x = 50; }},
      {"sides.right.finish.thickness[1].x_mm", "which is 5 mm",
       [](Design& d) {
         d.right.finish = Finish{{{5, 8}, {4, 8}}, std::nullopt, 0, 0};
       }},
      {"sides.left.liners[0].material", "did you mean \"g10\"?",
       [](Design& d) { d.left.liners[0].material = "g1o"; }},
      {"sides.left.joints[0].spacers[0].material", "no material is called \"xyzzy\"",
       [](Design& d) { d.left.joints[0].spacers[0].material = "xyzzy"; }},
      {"sides.right.pieces[0].material", "did you mean \"olive\"?",
       [](Design& d) {
         d.right.pieces = d.left.pieces;
         d.right.pieces->at(0).material = "olve";
       }},
      {"sides.right.liners[0].material", "must not be empty",
       [](Design& d) {
         d.right.liners = std::vector<Sheet>{{"", 1}};
       }},
  });
}

TEST_CASE("pins that can't be made are refused") {
  const HoleSize none{};
  check_each({
      {"pins[0].stock.bore_mm", "less than the pin's diameter, which is 4.98 mm",
       [](Design& d) { d.pins[0].stock.bore_mm = 4.98; }},
      {"pins[0].stock.material", "did you mean", [](Design& d) { d.pins[0].stock.material = "brass_c3600"; }},
      {"pins[0].scale_hole", "give a drill or diameter_mm", [=](Design& d) { d.pins[0].scale_hole = none; }},
      {"pins[0].scale_hole.drill", "did you mean", [](Design& d) { d.pins[0].scale_hole.drill = "5.12mm"; }},
      {"pins[0].scale_hole.drill", "no listed drill",
       [](Design& d) {
         d.pins[0].scale_hole = {"nosuch", 5.1};
       }},
      {"pins[0].liner_hole", "this handle has liners", [=](Design& d) { d.pins[0].liner_hole = none; }},
      {"pins[0].tang_hole", "name an existing_tang_hole instead",
       [=](Design& d) { d.pins[0].tang_hole = none; }},
      {"pins[1].tang_hole", "not both",
       [](Design& d) {
         d.pins[1].tang_hole = {"", 5.0};
       }},
      {"pins[1].existing_tang_hole", "did you mean \"rear\"?",
       [](Design& d) { d.pins[1].existing_tang_hole = "reer"; }},
      {"pins[1]", "mm off the middle of tang hole \"rear\"", [](Design& d) { d.pins[1].at_mm.y = 0.0101; }},
      {"pins[0]", "its axis lies outside it", [](Design& d) { d.pins[0].at_mm.y = 13; }},
      {"pins[0]", "its axis lies outside it", [](Design& d) { d.pins[0].at_mm.x = 200; }},
      {"pins[0]", "lies in cutout 0",
       [](Design& d) {
         d.pins[0].at_mm = {43, 1};
       }},
      {"pins[0]", "ahead of the front face on the right side",
       [](Design& d) {
         d.right.front = FrontFace{16, 0, 0};
       }},
      {"pins[0]", "ahead of the front face on the right side",
       // behind it on the inner face, but the front face leans over the pin toward the outside
       [](Design& d) {
         d.right.front = FrontFace{10, 0, 40};
       }},
  });
  Design within = good_design();
  within.pins[1].at_mm.y = 0.0099;
  CHECK(validate(within).empty());
  Design no_liners = good_design();
  no_liners.left.liners.clear();
  no_liners.pins[0].liner_hole = none;
  no_liners.pins[1].liner_hole = none;
  CHECK(validate(no_liners).empty());
}

TEST_CASE("the rest: texts, own materials, rules") {
  check_each({
      {"name", "too long", [](Design& d) { d.name = std::string(4097, 'x'); }},
      {"name", "is not UTF-8", [](Design& d) { d.name = "\xC3\x28"; }},
      {"note", "is not UTF-8", [](Design& d) { d.note = "half a character \xE2\x82"; }},
      {"note", "control character", [](Design& d) { d.note = std::string("a\0b", 3); }},
      {"name", "control character", [](Design& d) { d.name = "bell\a"; }},
      {"materials[1].key", "second material called \"driftwood\"",
       [](Design& d) {
         Material own;
         own.key = own.name = "driftwood";
         own.density_kg_m3 = 500;
         d.own_materials = {own, own};
       }},
      {"materials[0].hazards", "unknown",
       [](Design& d) {
         Material own;
         own.key = own.name = "driftwood";
         own.density_kg_m3 = 500;
         own.hazards = 1u << 20;
         d.own_materials = {own};
       }},
      {"rules.glue_clearance_least_mm", "glue_clearance_most_mm, which is 0.15 mm",
       [](Design& d) { d.rules.glue_clearance_least_mm = 0.16; }},
      {"rules.mix_near_share", "mix_error_share, which is 0.05",
       [](Design& d) { d.rules.mix_near_share = 0.06; }},
  });
}

TEST_CASE("malformed UTF-8 is told from good, as table 3-7 of The Unicode Standard has it") {
  const auto good = [](std::string text) {
    Design design = good_design();
    design.note = std::move(text);
    return validate(design).empty();
  };
  // Well-formed, but a control character of the second set.
  CHECK(schema::text_problem("\xC2\x80").find("control character") != std::string::npos);
  CHECK(schema::text_problem("\xC2\x9F").find("control character") != std::string::npos);
  CHECK(
      good("\xC2\xA0 \xDF\xBF \xE0\xA0\x80 \xED\x9F\xBF \xEE\x80\x80 \xEF\xBF\xBF \xF0\x90\x80\x80 "
           "\xF4\x8F\xBF\xBF"));
  for (const char* bad :
       {"\x80", "\xC0\xAF", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xED\xBF\xBF", "\xF0\x8F\xBF\xBF",
        "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF", "\xC2", "\xE2\x82", "\xF0\x90\x80"})
    CHECK_FALSE(good(bad));
}

TEST_CASE("every number out of its range, and every one that is none, is reported by its own path") {
  for (const std::uint64_t seed : {1u, 2u, 8u, 17u, 30u}) {
    const Design design = test::random_design(seed);
    std::size_t numbers = 0;
    while (test::nth_number(design, numbers)) ++numbers;
    REQUIRE(numbers > 80);
    for (std::size_t n = 0; n < numbers; ++n) {
      const test::Number number = *test::nth_number(design, n);
      const double least = number.quantity.least, most = number.quantity.most;
      const double infinity = std::numeric_limits<double>::infinity();
      const double below = number.quantity.above_least ? least : std::nextafter(least, -infinity);
      for (const double bad : {below, std::nextafter(most, infinity), std::nan(""), infinity, -infinity}) {
        // Colours are floats, too coarse for the next double.
        if (number.coarse && std::isfinite(bad)) continue;
        const auto problems = validate(test::with_number(design, n, bad));
        CAPTURE(seed, number.path, bad);
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].field == number.path);
        CHECK(problems[0].what.starts_with("must be " + schema::range_text(number.quantity)));
      }
    }
  }
}
