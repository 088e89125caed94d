#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "haftwright/reference/drills.hpp"
#include "support/check_values.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using haftwright::test::check_values;

TEST_CASE("Listed drills have their published sizes") {
  for (const auto& row : check_values("drill_sizes.csv")) {
    INFO(row[0]);
    const auto drill = find_drill(row[0]);
    REQUIRE(drill);
    CHECK(drill->label == row[0]);
    CHECK(drill->diameter_mm == Approx(std::stod(row[1]) * 25.4).epsilon(1e-12));
  }
  CHECK(find_drill("1/8")->diameter_mm == 3.175);  // exact: 25.4 mm to the inch
}

TEST_CASE("Every series grows, has no size twice and every row a source") {
  std::set<std::string_view> labels;
  const ListedDrill* before = nullptr;
  std::size_t counts[5] = {};
  for (const auto& drill : listed_drills()) {
    INFO(drill.label);
    CHECK_FALSE(drill.source.empty());
    CHECK(drill.diameter_mm > 0);
    CHECK(labels.insert(drill.label).second);
    ++counts[static_cast<std::size_t>(drill.series)];
    if (before && before->series == drill.series) CHECK(drill.diameter_mm > before->diameter_mm);
    if (before) CHECK(before->series <= drill.series);
    before = &drill;
  }
  CHECK(counts[0] == 32);   // 1/64 to 1/2 by 64ths
  CHECK(counts[1] == 80);   // #80 to #1
  CHECK(counts[2] == 26);   // A to Z
  CHECK(counts[3] == 121);  // 1.0 to 13.0 by tenths
  CHECK(counts[4] > 0);
}

TEST_CASE("Each fraction's label says its size") {
  for (const auto& drill : listed_drills()) {
    if (drill.series != DrillSeries::fraction) continue;
    const std::string label(drill.label);
    const auto bar = label.find('/');
    const double inches = std::stod(label.substr(0, bar)) / std::stod(label.substr(bar + 1));
    CHECK(drill.diameter_mm == Approx(inches * 25.4).epsilon(1e-14));
  }
}

TEST_CASE("A drill is found however it is written") {
  for (const char* spelling : {"1/8", "1/8 in", "1/8in", "1/8\"", " 1 / 8 inch ", "1/8 IN."})
    CHECK(find_drill(spelling).value().label == "1/8");
  for (const char* spelling : {"#30", "# 30", "no 30", "No. 30", "nr 30", "number 30"})
    CHECK(find_drill(spelling).value().label == "#30");
  for (const char* spelling : {"f", "F", "letter f"}) CHECK(find_drill(spelling).value().label == "F");
  for (const char* spelling : {"3.3 mm", "3.3mm", "3.3", "3.30 MM"})
    CHECK(find_drill(spelling).value().label == "3.3 mm");
  CHECK(find_drill("3 mm").value().label == "3.0 mm");
  CHECK(find_drill("1/8 in reamer over").value().diameter_mm == test::nearly(0.126 * 25.4));
  CHECK(find_drill("N").value().label == "N");  // not swallowed as the beginning of "no"
  CHECK(find_drill("I").value().label == "I");
}

TEST_CASE("Every listed label finds its own row") {
  for (const auto& drill : listed_drills()) CHECK(find_drill(drill.label).value().label == drill.label);
}

TEST_CASE("What is no drill is not found") {
  // A bare 30 could be #30 or 30 mm; guessing would drill the wrong hole.
  for (const char* spelling : {"", " ", "30", "3", "#81", "#0", "1/7", "33/64", "13.1 mm", "3.3 cm", "in",
                               "no", "nan", "inf mm", "-3.3 mm", "3,3 mm"}) {
    INFO(spelling);
    CHECK_FALSE(find_drill(spelling));
  }
}

TEST_CASE("The smallest drill in a range is found") {
  CHECK(smallest_drill_between(3.225, 3.325, false).value().label == "#30");
  CHECK_FALSE(smallest_drill_between(3.31, 3.32, false));
  // The edges of the range count, and 1/4 and E are one size: the first series has it.
  CHECK(smallest_drill_between(6.35, 6.35, false).value().label == "1/4");
  // Reamers only when asked for.
  CHECK(smallest_drill_between(3.2002, 3.21, true).value().series == DrillSeries::reamer);
  CHECK(smallest_drill_between(3.19, 3.21, false).value().label == "3.2 mm");
  CHECK_FALSE(smallest_drill_between(20, 30, true));
  CHECK_FALSE(smallest_drill_between(5, 4, true));
}

TEST_CASE("The smallest drill in a range agrees with looking at every drill") {
  for (double least = 0.3; least < 13; least += 0.013713) {
    double expected = 1e9;
    for (const auto& drill : listed_drills())
      if (drill.series != DrillSeries::reamer && drill.diameter_mm >= least &&
          drill.diameter_mm <= least + 0.1)
        expected = std::min(expected, drill.diameter_mm);
    const auto found = smallest_drill_between(least, least + 0.1, false);
    REQUIRE(found.has_value() == (expected < 1e9));
    if (found) CHECK(found->diameter_mm == expected);
  }
}

TEST_CASE("A misspelt drill brings the one that was probably meant") {
  CHECK(nearest_drill_label("#31x") == "#31");
  CHECK(nearest_drill_label("30") == "#30");
  CHECK(nearest_drill_label("3.33 mm") == "3.3 mm");
  CHECK(nearest_drill_label("a very long word that is no drill").empty());
}

TEST_CASE("Allowances on drilled holes and bushings are the published ones") {
  for (const auto& row : check_values("size_allowances.csv")) {
    INFO(row[0] << " from " << row[1]);
    for (const auto& size : {row[1], row[2]}) {
      const double mm = std::stod(size) * 25.4;
      const auto found = row[0] == "drilled hole" ? drilled_hole_allowance(mm) : bushing_bore_allowance(mm);
      REQUIRE(found);
      CHECK(found->lower_mm == test::nearly(std::stod(row[3]) * 25.4));
      CHECK(found->upper_mm == test::nearly(std::stod(row[4]) * 25.4));
      CHECK_FALSE(found->source.empty());
    }
  }
  CHECK_FALSE(drilled_hole_allowance(0.2));
  CHECK_FALSE(drilled_hole_allowance(20));
  CHECK_FALSE(bushing_bore_allowance(20));
  CHECK_FALSE(bushing_bore_allowance(0));
}

TEST_CASE("A jobber drill's flutes are as long as the standard's range for its size says") {
  // DIN 338, from memory: ranges of diameter with one length each, the upper end inside.
  for (const auto& [drill, flutes] : {std::pair{2.0, 24.0}, std::pair{2.5, 30.0}, std::pair{3.0, 33.0},
                                      std::pair{3.2, 36.0}, std::pair{5.0, 52.0}, std::pair{6.0, 57.0},
                                      std::pair{8.0, 75.0}, std::pair{10.0, 87.0}, std::pair{12.0, 101.0}})
    CHECK(jobber_flute_length(drill)->length_mm == flutes);
  CHECK(jobber_flute_length(3.35)->length_mm == 36);
  CHECK(jobber_flute_length(3.36)->length_mm == 39);
  double before = 0;
  for (double drill = 1.91; drill <= 13.2; drill += 0.01) {
    REQUIRE(jobber_flute_length(drill));
    CHECK(jobber_flute_length(drill)->length_mm >= before);
    before = jobber_flute_length(drill)->length_mm;
  }
  CHECK_FALSE(jobber_flute_length(1.9));
  CHECK_FALSE(jobber_flute_length(13.3));
}
