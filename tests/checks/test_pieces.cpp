#include "plain_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

TEST_CASE("A piece is held by the pins that run through it from face to face") {
  Design design = plain_design();
  CHECK(the(design, "piece.held", {"left front piece"}).value == 1);
  CHECK(the(design, "piece.held", {"left front piece"}).status == Status::pass);
  design.pins[1].at_mm = {35, 2};
  auto findings = findings_of(design);
  CHECK(the(findings, "piece.held", {"left front piece"}).value == 2);
  const auto rear = the(findings, "piece.held", {"left rear piece"});
  CHECK(rear.value == 0);
  CHECK(rear.limit == 1);
  CHECK(rear.status == Status::fail);
  CHECK(rear.why.find("glue alone") != std::string::npos);
  CHECK(rear.basis.find("pins_per_piece") != std::string::npos);
}

TEST_CASE("How many pins a piece must have is the shop's rule, and nothing lies near it") {
  Design design = plain_design();
  design.pins.pop_back();
  design.rules.pins_per_piece = 0;
  CHECK(the(design, "piece.held", {"left rear piece"}).status == Status::pass);
  design.rules.pins_per_piece = 2;
  design.rules.near_share = 1;
  CHECK(the(design, "piece.held", {"left front piece"}).status == Status::fail);
  design.pins.push_back(design.pins[0]);
  design.pins[1].name = "second";
  design.pins[1].at_mm = {35, 2};
  CHECK(the(design, "piece.held", {"left front piece"}).value == 2);
  CHECK(the(design, "piece.held", {"left front piece"}).status == Status::pass);
}

TEST_CASE("A handle without a pin fails, and so does a pin larger than its hole") {
  Design design = plain_design();
  design.pins.clear();
  const auto findings = findings_of(design);
  CHECK(worst(findings) == Status::fail);
  CHECK(those(findings, "piece.held").size() == 4);
  for (const Finding& finding : those(findings, "piece.held")) CHECK(finding.status == Status::fail);
  design = plain_design();
  design.pins[0].stock.nominal_mm = 4.08;
  for (const Finding& finding : those(findings_of(design), "pin.fit", {"pin 1"})) {
    CHECK(finding.value == exactly(-1));
    CHECK(finding.status == Status::fail);
  }
}

TEST_CASE("A pin that a raked joint cuts in two holds neither piece") {
  Design design = plain_design();
  design.left.joints[0].rake_deg = 45;
  design.pins[0].at_mm = {53, 0};
  const auto findings = findings_of(design);
  CHECK(the(findings, "piece.held", {"left front piece"}).value == 0);
  CHECK(the(findings, "piece.held", {"left rear piece"}).value == 1);
}

TEST_CASE("A blank is held against the finished piece") {
  Design design = plain_design();
  design.left.pieces[0].blank = {.thickness_mm = 7.6, .width_mm = 27, .length_mm = 51.9};
  const auto findings = findings_of(design);
  const auto thick = the(findings, "blank.thickness", {"left front piece"});
  CHECK(thick.value == exactly(0.6));
  CHECK(thick.limit == 0.5);
  const auto wide = the(findings, "blank.width", {"left front piece"});
  CHECK(wide.value == exactly(2));
  CHECK(wide.limit == 2);
  CHECK(wide.status == Status::near);
  const auto length = the(findings, "blank.length", {"left front piece"});
  CHECK(length.value == exactly(1.9));
  CHECK(length.status == Status::fail);
  // Not given, not checked.
  CHECK(those(findings, "blank.width", {"rear"}).empty());
  CHECK(those(findings, "blank.length", {"rear"}).empty());
}

TEST_CASE("A rake needs a longer blank") {
  Design design = plain_design();
  design.left.pieces[0].blank.length_mm = 60;
  design.left.joints[0].rake_deg = 45;
  CHECK(the(design, "blank.length", {"left front piece"}).value == exactly(60 - 57));
}

TEST_CASE("A right side with blanks of its own is held against those") {
  Design design = plain_design();
  design.right.pieces = design.left.pieces;
  design.right.pieces->front().blank.thickness_mm = 7.1;
  const auto findings = findings_of(design);
  CHECK(the(findings, "blank.thickness", {"left front piece"}).status == Status::pass);
  CHECK(the(findings, "blank.thickness", {"right front piece"}).status == Status::fail);
}

TEST_CASE("The thinnest wood is at the lowest wall") {
  Design design = plain_design();
  CHECK(the(design, "stack.wood", {"left"}).value == exactly(7));
  design.left.finish.thickness_mm = {{0, 8}, {60, 6}, {110, 8}};
  const auto finding = the(design, "stack.wood", {"left"});
  CHECK(finding.value == Approx(5).margin(0.01));
  CHECK(finding.place->x == Approx(60).margin(1));
  // A crown drops toward the edges: 20 mm radius, 12.5 mm from the crest.
  design.left.finish = {.thickness_mm = {{0, 12}}, .crown_radius_mm = 20};
  for (auto& piece : design.left.pieces) piece.blank.thickness_mm = 13;
  CHECK(the(design, "stack.wood", {"left"}).value ==
        Approx(12 - (20 - std::sqrt(400 - 12.5 * 12.5)) - 1).margin(1e-6));
}

TEST_CASE("Liners of both sides add up to the same") {
  Design design = plain_design();
  CHECK(the(design, "stack.liners").value == 0);
  design.right.liners = std::vector<Sheet>{{"g10", 0.5}, {"vulcanized_fibre", 0.8}};
  CHECK(the(design, "stack.liners").value == exactly(0.3));
  CHECK(the(design, "stack.liners").status == Status::fail);
}

TEST_CASE("Spacer strips are held against the shorter neighbour, and only where there are any") {
  Design design = plain_design();
  CHECK(those(findings_of(design), "stack.spacers").empty());
  design.left.joints[0].place_mm = 5;
  design.left.joints[0].spacers = {{"brass_c26000", 4}};
  const auto finding = the(design, "stack.spacers", {"left"});
  CHECK(finding.value == exactly(4));
  CHECK(finding.limit == exactly(3));
  CHECK(finding.status == Status::fail);
}
