// The text itself: JSON and nothing beside it.
#include <catch2/catch.hpp>
#include <clocale>
#include <cmath>
#include <cstring>
#include <limits>

#include "good_file.hpp"
#include "haftwright/design/limits.hpp"
#include "haftwright/design/starters.hpp"
#include "refusal.hpp"

using namespace haftwright;
using test::read;

namespace {

std::string with(const std::string& from, const std::string& to) {
  std::string text = test::kGoodFile;
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

bool says(const std::string& text, const std::string& part) {
  const test::Reading reading = read(text);
  UNSCOPED_INFO("said: " << reading.said());
  return reading.refused() && reading.problems.size() == 1 && reading.said().find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the good file is good") {
  const test::Reading reading = read(test::kGoodFile);
  REQUIRE(reading.said() == "accepted");
  const Design& design = *reading.design;
  CHECK(design.name == "Spatule à huîtres");
  CHECK(design.tang.thickness_front_mm == 3.175);
  CHECK(design.own_materials.at(0).hazards == (wood_dust | oily_wood));
  CHECK(design.own_materials.at(0).colour == Colour{0.5f, 0.25f, 0.1f});
  CHECK(design.left.joints.at(0).rake_deg == 3);
  CHECK(design.right.joints->at(0) == Joint{30.1, 0, 0, {}, "joint_1"});
  CHECK_FALSE(design.right.finish.has_value());
  CHECK(design.pins.at(0).scale_hole == HoleSize{"5.1 mm", 5.12});
  CHECK(design.pins.at(1).existing_tang_hole == "rear");
  CHECK(design.adhesive.mix_by == MixBy::weight);
  CHECK(design.guide.bushing_outside_mm == 10);
  CHECK(design.rules.edge_wall_mm == 2.5);
  CHECK(read(project_text(design)).design == design);
}

TEST_CASE("a mistake in the JSON is told with its line and column") {
  CHECK(says("{\n  \"haftwright\": 1,\n  \"name\" \"x\"\n}", "line 3, column 10: not valid JSON"));
  // A column counts characters: the two bytes of the letter before are one.
  CHECK(says("{\n  \"haftwright\": 1,\n  \"n\xC3\xA4me\" 1\n}", "line 3, column 10: not valid JSON"));
  CHECK(says("{\n  \"haftwright\": 1 \n ]", "line 3, column 2: not valid JSON"));
  CHECK(says("{\"haftwright\": 1 true}", "line 1, column 21: not valid JSON"));
  CHECK(says("{\"haftwright\": 1, \"a\": trve}", "line 1, column 26: not valid JSON"));
  CHECK(says("", "line 1, column 1: not valid JSON"));
  CHECK(says("   \n\n ", "line 3, column 2: not valid JSON"));
  CHECK(says("{", "line 1, column 2: not valid JSON"));
  CHECK(says("{\"haftwright\": 1,}", "not valid JSON"));
  CHECK(says("{'haftwright': 1}", "not valid JSON"));
  CHECK(says("{\"haftwright\": 1} x", "not valid JSON"));
  CHECK(says("{\"haftwright\": 1}{}", "not valid JSON"));
  CHECK(says("// a comment\n{\"haftwright\": 1}", "line 1, column 1: not valid JSON"));
  CHECK(says("{\"haftwright\": 1 /* one */}", "not valid JSON"));
  CHECK(says("{\"haftwright\": 01}", "not valid JSON"));
  for (const char* number :
       {"NaN", "nan", "Infinity", "-Infinity", "inf", "+1", ".5", "5.", "0x10", "1_000", "1,5"})
    CHECK(
        says(with("\"butt_proud_mm\": 0.5", std::string("\"butt_proud_mm\": ") + number), "not valid JSON"));
}

TEST_CASE("bytes that are no text are refused") {
  CHECK(says("\xEF\xBB\xBF" + test::kGoodFile, "byte order mark"));
  CHECK(says(std::string("\xFF\xFE{\0}\0", 6), "is saved as UTF-16; save it as UTF-8"));
  CHECK(says(std::string("\xFE\xFF\0{\0}", 6), "is saved as UTF-16"));
  CHECK(says(std::string("{\0}\0", 4), "is saved as UTF-16"));
  CHECK(says(std::string("\0{\0}", 4), "is saved as UTF-16"));
  CHECK(says(with("Spatule", "\xC3("), "not valid JSON"));
  CHECK(says(with("Spatule", "\xED\xA0\x80"), "not valid JSON"));  // half a surrogate pair as UTF-8
  CHECK(says(with("Spatule", "\\ud800"), "not valid JSON"));
  CHECK(says(with("Spatule", "a\tb"), "not valid JSON"));  // a bare tab in a text
  CHECK(says(with("Spatule", "a\\u0000b"), "name: holds a control character"));
  CHECK(says(with("Spatule", "a\\u009bb"),
             "name: holds a control character"));  // a terminal takes it for ESC [
  CHECK(says(with("Spatule", "\\u007f"), "name: holds a control character"));
  CHECK(says(with("Spatule", "board\\n0 fail"), "name: must stand in one line"));
  CHECK(says(test::kGoodFile + std::string(1, '\0') + "}", "holds a zero byte"));
  CHECK(read(with("Spatule", "a\\u00e9\\ud83d\\ude00")).design->name.starts_with("aé😀"));
}

TEST_CASE("a key given twice is refused with its path") {
  CHECK(says(with("\"slant_deg\": 12", "\"slant_deg\": 12, \"slant_deg\": 13"),
             "sides.left.joints[0].slant_deg: is given twice"));
  CHECK(says(with("{\"nominal_mm\": 5}", "{\"nominal_mm\": 5, \"nominal_mm\": 5}"),
             "pins[1].stock.nominal_mm: is given twice"));
  CHECK(says(with("\"name\": \"Sp", "\"haftwright\": 1, \"name\": \"Sp"), "haftwright: is given twice"));
  // The same key written with an escape is the same key.
  CHECK(says(with("\"place_mm\": 30,", "\"place_mm\": 30, \"pl\\u0061ce_mm\": 30,"),
             "place_mm: is given twice"));
}

TEST_CASE("too much of anything is refused before it costs anything") {
  const std::size_t depth = limits::kNesting;
  CHECK(says(std::string(2'000'000, '['), "is nested deeper than 16 levels"));
  CHECK(says("{\"a\":" + std::string(1'000'000, '{'), "not valid JSON"));
  std::string deep;
  for (int i = 0; i < 100'000; ++i) deep += "{\"a\":";
  CHECK(says(deep, "is nested deeper than 16 levels"));
  // Just deep enough is no problem of depth.
  CHECK(says(std::string(depth, '[') + std::string(depth, ']'), "must be one JSON object"));
  CHECK(says(std::string(depth + 1, '[') + std::string(depth + 1, ']'), "deeper"));

  CHECK(says(std::string(limits::kFileBytes + 1, ' '), "is larger than 4194304 bytes"));
  std::string padded = test::kGoodFile;
  padded.resize(limits::kFileBytes, ' ');
  CHECK_FALSE(read(padded).refused());

  const auto many = [](const std::string& entry, std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i) text += (i ? "," : "") + entry;
    return text;
  };
  CHECK(says(with("[{\"material\": \"g10\", \"thickness_mm\": 0.8}]", "[" + many("0", 1'000'000) + "]"),
             "sides.left.liners: must have 0 to 16 entries, but has 1000000"));
  CHECK(
      says(with("[\"wood_dust\", \"oily_wood\"]", "[" + many("\"wood_dust\"", 8) + "]"), "must have 0 to 7"));
  CHECK(says(
      with("\"butt_proud_mm\": 0.5", "\"butt_proud_mm\": \"" + std::string(1'000'000, '1') + "\""),
      "sides.left.butt_proud_mm: \"1111111111111111111111111111111111111111...\" is too long for a length"));
  CHECK(says(with("\"cutouts\": [", "\"cutouts\": [" + many("[]", 100) + ","),
             "tang.cutouts: must have 0 to 64"));
  // Keys are found fast, however many there are, and only the first problems are told.
  std::string keys;
  for (int i = 0; i < 200'000; ++i) keys += "\"k" + std::to_string(i) + "\": 1,";
  const test::Reading crowd = read(with("\"nominal_mm\": 5}", keys + "\"nominal_mm\": 5}"));
  REQUIRE(crowd.problems.size() == 21);
  CHECK(crowd.problems.back().what == "and 199980 more problems");
}

TEST_CASE("the limits on lists and texts hold, to the last entry") {
  Design design = *read(test::kGoodFile).design;
  const auto holds = [&](const char* field) {
    const auto problems = validate(design);
    return problems.size() == 1 && problems[0].field == field;
  };
  const Design good = design;
  design.name = std::string(limits::kTextBytes, 'x');
  CHECK(read(project_text(design)).design == design);
  design.name += 'x';
  CHECK(holds("name"));
  design = good;
  design.left.liners.assign(limits::kSheets, {"g10", 0.1});
  CHECK(read(project_text(design)).design == design);
  design.left.liners.push_back({"g10", 0.1});
  CHECK(holds("sides.left.liners"));
  design = good;
  while (design.tang.holes.size() < limits::kTangHoles) {
    const auto n = static_cast<double>(design.tang.holes.size());
    design.tang.holes.push_back(
        {"hole_" + std::to_string(design.tang.holes.size()), {0.5 * n, n < 64 ? 8.0 : -8.0}, 0.3});
  }
  CHECK(read(project_text(design)).design == design);
  design.tang.holes.push_back({"one_more", {-5, 0}, 0.3});
  CHECK(holds("tang.holes"));
  design = good;
  design.tang.outline = starter_outline(StraightTang{});
  const Vec2 from = design.tang.outline[0].at, to = design.tang.outline[1].at;
  std::vector<Node> fine{design.tang.outline[0]};
  const std::size_t more = limits::kOutlineNodes - design.tang.outline.size();
  for (std::size_t i = 1; i <= more; ++i)
    fine.push_back({from + (to - from) * (static_cast<double>(i) / static_cast<double>(more + 1)), 0});
  design.tang.outline.insert(design.tang.outline.begin() + 1, fine.begin() + 1, fine.end());
  REQUIRE(design.tang.outline.size() == limits::kOutlineNodes);
  CHECK(read(project_text(design)).design == design);
  design.tang.outline.insert(design.tang.outline.begin() + 1, {(from + fine[1].at) / 2.0, 0});
  CHECK(holds("tang.outline"));
}

TEST_CASE("the file says what it is and which format it has") {
  CHECK(says("{}", "haftwright: is missing"));
  CHECK(says("[]", "is no Haftwright project"));
  CHECK(says("3", "is no Haftwright project"));
  CHECK(says("null", "is no Haftwright project"));
  CHECK(says(
      with("\"haftwright\": 2", "\"haftwright\": 3"),
      "haftwright: this project was saved by a newer Haftwright (format 3); this one reads up to format 2"));
  CHECK(says(with("\"haftwright\": 2", "\"haftwright\": 99999999999999999999"), "haftwright: "));
  for (const char* bad : {"0", "-1", "1.0", "1.5", "\"1\"", "true", "null", "[1]"})
    CHECK(says(with("\"haftwright\": 2", std::string("\"haftwright\": ") + bad),
               "haftwright: must be the number of the format"));
}

TEST_CASE("numbers too large for a double are told, the smallest are kept") {
  CHECK(says(with("640.5", "1e999"), "the number 1e999 is too large"));
  CHECK(says(with("640.5", "-1e400"), "the number -1e400 is too large"));
  CHECK(says(with("640.5", "1e22"),
             "materials[0].density_kg_m3: must be more than 0 and at most 25000 kg/m3, but is 1e+22"));
  CHECK(says(with("640.5", std::string(400, '9')), "is too large"));
  Design design = *read(test::kGoodFile).design;
  for (const double value : {-0.0, 5e-324, -5e-324, 2.2250738585072014e-308, 0.1, 1.0 / 3, 1999.9999999999998,
                             1e-7, 123456789e-9}) {
    design.left.finish.crest_y_mm = value;
    const double again = read(project_text(design)).design->left.finish.crest_y_mm;
    CAPTURE(value);
    CHECK(std::memcmp(&again, &value, sizeof value) == 0);
  }
}

TEST_CASE("lengths given as text are turned into millimetres exactly") {
  CHECK(read(with("\"butt_proud_mm\": 0.5", "\"butt_proud_mm\": \"1/64 in\"")).design->left.butt_proud_mm ==
        25.4 / 64);
  CHECK(read(with("\"measured_mm\": 4.98", "\"measured_mm\": \"0.1960 in\""))
            .design->pins[0]
            .stock.measured_mm == 0.1960 * 25.4);
  CHECK(says(with("\"butt_proud_mm\": 0.5", "\"butt_proud_mm\": \"3 in\""),
             "sides.left.butt_proud_mm: must be from 0 to 50 mm"));
  // Without a unit a text follows the project's; a number is millimetres whatever the project shows.
  const auto proud = [](const std::string& units, const std::string& length) {
    std::string text = with("\"butt_proud_mm\": 0.5", "\"butt_proud_mm\": " + length);
    const std::string_view given = "\"units\": \"inch\"";
    return text.replace(text.find(given), given.size(), "\"units\": \"" + units + "\"");
  };
  CHECK(read(proud("mm", "\"0.625\"")).design->left.butt_proud_mm == 0.625);
  CHECK(read(proud("inch", "\"0.625\"")).design->left.butt_proud_mm == 0.625 * 25.4);
  CHECK(read(proud("inch_fraction", "\"5/8\"")).design->left.butt_proud_mm == 0.625 * 25.4);
  CHECK(read(proud("inch", "0.625")).design->left.butt_proud_mm == 0.625);
  CHECK(read(proud("inch", "\"0.625 mm\"")).design->left.butt_proud_mm == 0.625);
  CHECK(says(proud("mm", "\"5/8\""),
             "sides.left.butt_proud_mm: \"5/8\" is no length: a fraction needs its unit"));
  CHECK(says(with("\"butt_proud_mm\": 0.5", "\"butt_proud_mm\": \"0,5 mm\""), "use a point, not a comma"));
  CHECK(says(with("\"slant_deg\": 12", "\"slant_deg\": \"12 in\""),
             "slant_deg: must be a number, but is a text"));
}

TEST_CASE("a tang is given by its outline or by a starter, not both, not neither") {
  const auto tang = [](const std::string& fields) {
    return "{\"haftwright\": 1, \"tang\": {" + fields +
           "}, \"sides\": {\"left\": {\"pieces\": [{\"material\": \"olive\"}]}}}";
  };
  BowedTang bowed;
  bowed.length_mm = 95.25;
  const auto made = read(tang(R"("starter": {"kind": "bowed", "length_mm": "3 3/4 in"})"));
  REQUIRE_FALSE(made.refused());
  CHECK(made.design->tang.outline == starter_outline(bowed));
  CHECK(read(project_text(*made.design)).design == made.design);
  CHECK(says(tang(R"("hardened": true)"), "tang.outline: is missing"));
  CHECK(says(tang(R"("starter": {"kind": "straight"}, "outline": [])"),
             "tang.starter: give outline or starter, not both"));
  CHECK(says(tang(R"("starter": {})"), "tang.starter.kind: is missing"));
  CHECK(says(tang(R"("starter": 7)"), "tang.starter: must be an object, but is a number"));
  CHECK(says(tang(R"("starter": {"kind": "curly"})"),
             "tang.starter.kind: must be one of \"straight\", \"bowed\", but is \"curly\""));
  CHECK(says(tang(R"("starter": {"kind": 1})"),
             "tang.starter.kind: must be one of \"straight\", \"bowed\", but is a number"));
  CHECK(says(tang(R"("starter": {"kind": "straight", "lenght_mm": 90})"),
             "tang.starter: unknown key \"lenght_mm\"; did you mean \"length_mm\"?"));
  CHECK(says(tang(R"("starter": {"kind": "straight", "spine_rise_mm": 1})"),
             "tang.starter: unknown key \"spine_rise_mm\""));
  CHECK(says(tang(R"("starter": {"kind": "straight", "length_mm": -4})"),
             "tang.starter.length_mm: must be from 1 to 2000 mm"));
  CHECK(says(tang(R"("starter": {"kind": "straight", "butt_corner_mm": 20})"),
             "tang.starter: butt_corner_mm is too large"));
}

TEST_CASE("a locale with decimal commas changes no file") {
  const Design design = *read(test::kGoodFile).design;
  const std::string text = project_text(design);
  // In a container only the C locale may be there; the C++ side is tested in design/units_test.cpp as well.
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"}) std::setlocale(LC_ALL, name);
  CHECK(project_text(design) == text);
  CHECK(read(text).design == design);
  std::setlocale(LC_ALL, "C");
}

TEST_CASE("a design that could not be read back is not written") {
  Design design = *read(test::kGoodFile).design;
  design.left.joints[0].slant_deg = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(project_text(design), InputError);
  design = *read(test::kGoodFile).design;
  design.name = "\xFF";
  CHECK_THROWS_AS(project_text(design), InputError);
}

TEST_CASE("a plain name stands for the one material that has it, and else is asked after") {
  const auto material = [](const std::string& name) {
    return "{\"haftwright\": 1, \"tang\": {\"starter\": {\"kind\": \"straight\"}}, \"sides\": {\"left\": "
           "{\"pieces\": [{\"material\": \"" +
           name + "\"}]}}}";
  };
  CHECK(read(material("walnut")).design->left.pieces[0].material == "black_walnut");
  CHECK(read(material("Hard maple")).design->left.pieces[0].material == "sugar_maple");
  CHECK(read(material("olive")).design->left.pieces[0].material == "olive");
  CHECK(says(material("maple"), "say which: \"bigleaf_maple\", \"black_maple\", \"red_maple\""));
  CHECK(says(material("brass"), "\"brass_c36000\""));
  // A misspelt one is never taken, only offered.
  CHECK(says(material("walnutt"), "did you mean \"black_walnut\"?"));
  CHECK(says(material("maplle"), "say which: \"bigleaf_maple\", \"black_maple\""));
  CHECK(says(material("xyzzy"), "'haftwright list materials'"));
  // The project's own materials come first.
  std::string own = material("walnut");
  own.insert(1, "\"materials\": [{\"key\": \"walnut\", \"name\": \"old walnut\", \"density_kg_m3\": 600}], ");
  CHECK(read(own).design->left.pieces[0].material == "walnut");
}

TEST_CASE("a message shows no more of a long word than a line has room for") {
  const std::string endless(100'000, 'k');
  CHECK(read(with("\"slant_deg\": 12", "\"" + endless + "\": 12, \"slant_deg\": 12")).said().size() < 300);
  CHECK(read(with("\"slant_deg\": 12", "\"" + endless + "\": 1, \"" + endless + "\": 1")).said().size() <
        300);
  CHECK(read(with("\"butt_proud_mm\": 0.5", "\"butt_proud_mm\": \"" + endless + "\"")).said().size() < 300);
}
