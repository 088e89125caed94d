#include <catch2/catch.hpp>
#include <clocale>
#include <limits>
#include <locale>

#include "haftwright/design/units.hpp"
#include "support/random.hpp"

using namespace haftwright;

namespace {

constexpr auto mm = LengthUnit::millimetre;
constexpr auto inch = LengthUnit::inch;

std::string refusal(std::string_view text) {
  try {
    parse_length_mm(text, mm);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "accepted";
}

struct CommaForDecimals : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

}  // namespace

TEST_CASE("lengths are read the ways people write them") {
  struct Row {
    const char* text;
    double wanted_mm;
  };
  const Row rows[] = {
      {"3.2", 3.2},          {"3.2 mm", 3.2},
      {" 3.2mm ", 3.2},      {"+3.2 mm", 3.2},
      {"-2 mm", -2},         {"- 2 mm", -2},
      {".5 mm", 0.5},        {"5. mm", 5},
      {"1.2 cm", 12},        {"0.125 in", 3.175},
      {"0.125\"", 3.175},    {"1/8 in", 3.175},
      {"1/8\"", 3.175},      {"1 / 8 inch", 3.175},
      {"1/8 in.", 3.175},    {"1 inch", 25.4},
      {"2 inches", 50.8},    {"1/8in", 3.175},
      {"1 1/2 in", 38.1},    {"1-1/2 in", 38.1},
      {"1 - 1/2 in", 38.1},  {"-1 1/2 in", -38.1},
      {"-1-1/2 in", -38.1},  {"1/2 mm", 0.5},
      {"1 1/2 mm", 1.5},     {"0", 0},
      {"0.1235 in", 3.1369}, {"1/8 \xE2\x80\xB3", 3.175},
  };
  for (const Row& row : rows) {
    INFO(row.text);
    CHECK(parse_length_mm(row.text, mm) == Approx(row.wanted_mm).epsilon(1e-15));
  }
  CHECK(parse_length_mm("0.5", inch) == 12.7);
  CHECK(parse_length_mm("0.5", LengthUnit::inch_fraction) == 12.7);
  // A bare fraction follows the unit too, but nobody measures in fractions of a millimetre.
  CHECK(parse_length_mm("1/2", inch) == 12.7);
  CHECK(parse_length_mm("-1-1/2", LengthUnit::inch_fraction) == Approx(-38.1).epsilon(1e-15));
  CHECK(refusal("5/8").find("write 5/8 in") != std::string::npos);
  CHECK(refusal("1 1/2").find("needs its unit") != std::string::npos);
}

TEST_CASE("every 64th of an inch is exact, and reads back from what is shown") {
  for (int n = -1024; n <= 1024; ++n) {
    const double wanted = n * 25.4 / 64;
    CHECK(parse_length_mm(std::to_string(n) + "/64 in", mm) == Approx(wanted).epsilon(1e-15));
    const std::string shown = format_length(wanted, LengthUnit::inch_fraction);
    CHECK(shown.find('~') == std::string::npos);
    CHECK(parse_length_mm(shown, mm) == Approx(wanted).epsilon(1e-15));
  }
}

TEST_CASE("what is no length is refused with what would be right") {
  CHECK(refusal("0,5 mm") == "\"0,5 mm\" is no length: use a point, not a comma, for decimals: 0.5 mm");
  CHECK(refusal("3 furlongs").find("\"furlongs\" is no unit known here; use mm, cm, in or \"") !=
        std::string::npos);
  for (const char* text : {"",           "   ",   "mm",       "one", "1/",   "1/0 in", "1 2",    "1 2 in",
                           "1.5 1/2 in", "1//2",  "3 mm mm",  "--2", "1 -",  "0x10",   "1e3 mm", "nan",
                           "inf",        "3.2.1", "1/2/3 in", "/8",  "- mm", "1 1/0"}) {
    INFO(text);
    CHECK(refusal(text) != "accepted");
    CHECK(refusal(text).find("is no length: ") != std::string::npos);
  }
  CHECK(refusal(std::string(400, '9') + " mm") != "accepted");
}

TEST_CASE("lengths are shown in the unit chosen") {
  CHECK(format_length(3.175, mm) == "3.18 mm");
  CHECK(format_length(3.175, inch) == "0.1250 in");
  CHECK(format_length(0.1235 * 25.4, inch) == "0.1235 in");
  const auto fraction = [](double inches) { return format_length(inches * 25.4, LengthUnit::inch_fraction); };
  CHECK(fraction(0.125) == "1/8 in");
  CHECK(fraction(1.1875) == "1 3/16 in");
  CHECK(fraction(-1.1875) == "-1 3/16 in");
  CHECK(fraction(2) == "2 in");
  CHECK(fraction(0) == "0 in");
  CHECK(fraction(0.1235) == "~1/8 in");
  CHECK(fraction(0.0001) == "~0 in");
  CHECK(fraction(-0.0001) == "~0 in");
  CHECK(fraction(63.999 / 64) == "~1 in");
  CHECK(format_number(-0.0004, 2) == "0.00");
  CHECK(format_number(-0.005001, 2) == "-0.01");
  CHECK(format_number(1e300, 0).size() == 301);
  CHECK(shortest_number(0.1) == "0.1");
  CHECK(shortest_number(4) == "4");
}

TEST_CASE("no fraction shown is farther off than half a 64th") {
  test::Random random(7);
  for (int i = 0; i < 2000; ++i) {
    const double length = random.between(-500, 500);
    std::string shown = format_length(length, LengthUnit::inch_fraction);
    if (shown.starts_with('~')) shown.erase(0, 1);
    REQUIRE(std::abs(parse_length_mm(shown, mm) - length) <= 25.4 / 128 * (1 + 1e-9));
  }
}

TEST_CASE("a locale with decimal commas changes nothing") {
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new CommaForDecimals));
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"}) std::setlocale(LC_NUMERIC, name);
  CHECK(format_length(1234.5, mm) == "1234.50 mm");
  CHECK(format_length(3.175, inch) == "0.1250 in");
  CHECK(shortest_number(0.5) == "0.5");
  CHECK(parse_length_mm("1234.5 mm", mm) == 1234.5);
  std::setlocale(LC_NUMERIC, "C");
  std::locale::global(before);
}
