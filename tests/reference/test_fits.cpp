#include <catch2/catch.hpp>
#include <string>

#include "support/check_values.hpp"
#include "support/fits.hpp"

using namespace haftwright;
using haftwright::test::check_values;

TEST_CASE("Limit deviations are the published ones") {
  for (const auto& row : check_values("limits_and_fits.csv")) {
    INFO(row[1] << " " << row[0]);
    const auto limits = test::limit_deviations(row[0], std::stod(row[1]));
    CHECK(limits.lower_um == std::stod(row[2]));
    CHECK(limits.upper_um == std::stod(row[3]));
  }
}

TEST_CASE("A fit's clearances are the published ones") {
  // ISO 286 worked fits as printed in a secondary text: 25 H7/g6 clears by 7 to 41, 25 H7/p6 by -35 to -1 um.
  const auto hole = test::limit_deviations("H7", 25);
  const auto loose = test::limit_deviations("g6", 25);
  CHECK(hole.lower_um - loose.upper_um == 7);
  CHECK(hole.upper_um - loose.lower_um == 41);
  const auto tight = test::limit_deviations("p6", 25);
  CHECK(hole.lower_um - tight.upper_um == -35);
  CHECK(hole.upper_um - tight.lower_um == -1);
}

TEST_CASE("A size on the edge of a range belongs to the lower range") {
  for (const double edge : {3.0, 6.0, 10.0, 18.0}) {
    for (int grade = 5; grade <= 11; ++grade) {
      CHECK(test::standard_tolerance_um(grade, edge) == test::standard_tolerance_um(grade, edge - 0.5));
      CHECK(test::standard_tolerance_um(grade, edge) < test::standard_tolerance_um(grade, edge + 1e-9));
    }
  }
  CHECK(test::standard_tolerance_um(7, 30) == 21);
}

TEST_CASE("Limits are as far apart as the grade says, holes mirror shafts") {
  for (const char letter : std::string("DEFGHdefghkmnp")) {
    for (int grade = 5; grade <= 11; ++grade) {
      if (letter == 'k' && grade > 7) continue;
      for (const double size : {0.5, 3.0, 4.7, 8.0, 12.0, 30.0}) {
        const auto limits = test::limit_deviations(letter + std::to_string(grade), size);
        CHECK(limits.upper_um - limits.lower_um == test::standard_tolerance_um(grade, size));
        if (letter > 'H') continue;
        const auto shaft =
            test::limit_deviations(static_cast<char>(letter + 32) + std::to_string(grade), size);
        CHECK(limits.lower_um == -shaft.upper_um);
      }
    }
  }
}

TEST_CASE("What the table does not hold is refused and named") {
  using Catch::Contains;
  CHECK_THROWS_WITH(test::limit_deviations("H7", 31), Contains("30 mm"));
  CHECK_THROWS_WITH(test::limit_deviations("H7", 0), Contains("30 mm"));
  CHECK_THROWS_WITH(test::limit_deviations("H7", -3), Contains("30 mm"));
  CHECK_THROWS_WITH(test::limit_deviations("H7", std::stod("nan")), Contains("30 mm"));
  CHECK_THROWS_WITH(test::limit_deviations("H4", 5), Contains("grades 5 to 11"));
  CHECK_THROWS_WITH(test::limit_deviations("H12", 5), Contains("grades 5 to 11"));
  CHECK_THROWS_WITH(test::limit_deviations("k8", 5), Contains("k for grades 5 to 7"));
  CHECK_THROWS_WITH(test::limit_deviations("s6", 5), Contains("\"s\""));
  CHECK_THROWS_WITH(test::limit_deviations("K7", 5), Contains("\"K\""));
  for (const char* text : {"", "H", "7H", "H7x", "H 7", "js7", "H99999999999"})
    CHECK_THROWS_AS(test::limit_deviations(text, 5), std::invalid_argument);
  CHECK_THROWS_AS(test::standard_tolerance_um(4, 5), std::invalid_argument);
}

TEST_CASE("Position tolerances of fasteners are the published ones") {
  for (const auto& row : check_values("fasteners.csv")) {
    INFO(row[0]);
    const double fastener = std::stod(row[1]);
    const double hole = std::stod(row[2]);
    const double tolerance = row[0] == "floating" ? test::floating_fastener_tolerance_mm(hole, fastener)
                                                  : test::fixed_fastener_tolerance_mm(hole, fastener);
    CHECK(tolerance == Approx(std::stod(row[3])).margin(1e-9));
  }
}
