#include "plain_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// 1/8 in drill that measures 0.1235 in against 0.1250 in stock, in every layer.
Design small_drill() {
  Design design = plain_design();
  design.shown_unit = LengthUnit::inch;
  const HoleSize hole{.drill = "1/8", .diameter_mm = 0.1235 * 25.4};
  for (Pin& pin : design.pins) {
    pin.stock.nominal_mm = 0.125 * 25.4;
    pin.scale_hole = pin.liner_hole = pin.tang_hole = hole;
  }
  return design;
}

}  // namespace

TEST_CASE("A 1/8 in drill that cuts 0.1235 in against 0.1250 in stock: common practice knows the answer") {
  const auto finding = the(small_drill(), "pin.fit", {"pin 1", "scales"});
  CHECK(finding.status == Status::fail);
  CHECK(finding.value == exactly(-0.0015 * 25.4));
  CHECK(finding.limit == exactly(0.05));
  CHECK(finding.sense == Sense::at_least);
  CHECK(finding.why ==
        "The 1/8 in drill makes a hole of 0.1235 in (3.137 mm), the pin is 0.1250 in (3.175 mm): "
        "0.0015 in (0.038 mm) of interference. Take 0.0035 in (0.088 mm) off the pin's diameter for "
        "0.0020 in (0.050 mm) of glue clearance, or open the hole up with #30, 0.1285 in (3.264 mm).");
}

TEST_CASE("In a metric shop the same is told in millimetres first") {
  Design design = small_drill();
  design.shown_unit = LengthUnit::millimetre;
  const auto finding = the(design, "pin.fit", {"pin 1", "tang"});
  CHECK(finding.why.find("0.038 mm (0.0015 in) of interference") != std::string::npos);
}

TEST_CASE("Equal holes of both sides are told once") {
  const Design design = plain_design();
  const auto findings = those(findings_of(design), "pin.fit", {"pin 1"});
  REQUIRE(findings.size() == 3);
  CHECK(where_words(design, findings[0].where) == "pin 1 (front), scales, both sides");
  CHECK(where_words(design, findings[1].where) == "pin 1 (front), liners, both sides");
  CHECK(where_words(design, findings[2].where) == "pin 1 (front), tang");
}

TEST_CASE("Liner holes are checked only where there are liners") {
  Design design = plain_design();
  design.right.liners = std::vector<Sheet>{};
  CHECK(the(design, "pin.fit", {"pin 1", "liners, left side"}).value == exactly(0.08));
  design.left.liners.clear();
  CHECK(those(findings_of(design), "pin.fit", {"liners"}).empty());
}

TEST_CASE("The clearance is held against the limit it is nearer to") {
  Design design = plain_design();
  const auto fit = [&](double hole_mm) {
    design.pins[0].scale_hole.diameter_mm = hole_mm;
    return the(design, "pin.fit", {"pin 1", "scales"});
  };
  CHECK(fit(3.08).sense == Sense::at_least);
  CHECK(fit(3.08).status == Status::pass);
  CHECK(fit(3.11).sense == Sense::at_most);
  CHECK(fit(3.11).limit == 0.15);
  CHECK(fit(3.05).status == Status::near);  // at the limit: not failed
  CHECK(fit(3.15).status == Status::near);
  CHECK(fit(3.0499).status == Status::fail);
  CHECK(fit(3.1501).status == Status::fail);
}

TEST_CASE("Measured stock counts, not what the label says") {
  Design design = plain_design();
  design.pins[0].stock.measured_mm = 2.95;
  CHECK(the(design, "pin.fit", {"pin 1", "scales"}).value == exactly(0.13));
}

TEST_CASE("A loose hole asks for thicker stock or the smallest drill that would do") {
  Design design = plain_design();
  design.pins[0].scale_hole = {.drill = "3.3 mm"};
  const auto finding = the(design, "pin.fit", {"pin 1", "scales"});
  CHECK(finding.status == Status::fail);
  CHECK(finding.value == exactly(0.3));
  CHECK(finding.why.find("Use pin stock of 3.150 mm (0.1240 in) to 3.250 mm (0.1280 in)") !=
        std::string::npos);
  // #31 is 0.1200 in = 3.048 mm, 2 um short; the next is 3.1 mm.
  CHECK(finding.why.find("or drill with 3.1 mm, 3.100 mm (0.1220 in)") != std::string::npos);
}

TEST_CASE("A drill nobody has measured is said to be taken at its nominal size") {
  Design design = plain_design();
  design.pins[0].scale_hole = {.drill = "3.1 mm"};
  const auto finding = the(design, "pin.fit", {"pin 1", "scales"});
  CHECK(finding.value == exactly(0.1));
  // AND10387: up to 0.125 in from 0.001 in under to 0.004 in over.
  CHECK(finding.why.find("0.025 mm (0.0010 in) under to 0.102 mm (0.0040 in) over") != std::string::npos);
  CHECK(finding.basis.find("AND10387") != std::string::npos);
  CHECK(the(plain_design(), "pin.fit", {"pin 1", "scales"}).why.find("nominal") == std::string::npos);
}

TEST_CASE("A hole that is in the tang already is not drilled smaller") {
  Design design = plain_design();
  design.tang.holes = {{"old", {20, -2}, 3.4}};
  design.pins[0].tang_hole = {};
  design.pins[0].existing_tang_hole = "old";
  const auto finding = the(design, "pin.fit", {"pin 1", "tang"});
  CHECK(finding.why.find("The hole in the tang is 3.400 mm") != std::string::npos);
  CHECK(finding.why.find("Use pin stock of 3.250 mm") != std::string::npos);
  CHECK(finding.why.find("drill with") == std::string::npos);
}

TEST_CASE("Where no listed drill or reamer would do, the finding says so") {
  Design design = plain_design();
  design.rules.glue_clearance_least_mm = 0.0601;
  design.rules.glue_clearance_most_mm = 0.0602;
  CHECK(the(design, "pin.fit", {"pin 1", "scales"}).why.find("no listed drill or reamer") !=
        std::string::npos);
}
