#include <cmath>
#include <numbers>

#include "plain_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {
constexpr double kRadius = 1.54;  // of the plain design's holes
}

TEST_CASE("Hole to edge: wall in plan, toward the nearest edge") {
  const auto finding = the(plain_design(), "hole.edge", {"pin 1", "left side", "toward the belly"});
  CHECK(finding.value == exactly(10.5 - kRadius));
  CHECK(finding.limit == exactly(3.08));  // one hole diameter, more than 2 mm
  CHECK(finding.status == Status::pass);
  CHECK(finding.place->x == exactly(20));
  CHECK(finding.place->y == exactly(-12.5));
  CHECK(finding.place->z == exactly(3));  // half the tang and the liner
  CHECK(the(plain_design(), "hole.edge", {"pin 1", "right side"}).place->z == exactly(-3));
}

TEST_CASE("Hole to edge: the least wall rules where a pin is thin") {
  Design design = plain_design();
  design.rules.edge_wall_mm = 4;
  const auto finding = the(design, "hole.edge", {"pin 1", "left"});
  CHECK(finding.limit == 4);
  CHECK(finding.basis.find("edge_wall_mm") != std::string::npos);
}

TEST_CASE("A hole that leaves exactly the wanted wall does not fail, a hair less does") {
  Design design = plain_design();
  design.rules.near_share = 0;
  design.pins[0].at_mm.y = -12.5 + kRadius + 3.08;
  CHECK(the(design, "hole.edge", {"pin 1", "left"}).status == Status::pass);
  design.pins[0].at_mm.y -= 1e-6;
  CHECK(the(design, "hole.edge", {"pin 1", "left"}).status == Status::fail);
}

TEST_CASE("A pin moved toward an edge loses exactly as much margin") {
  const struct {
    const char* id;
    const char* word;
    Vec2 way;
  } moves[] = {{"hole.edge", "belly", {0, -1}},      {"hole.land", "belly", {0, -1}},
               {"hole.tang_edge", "belly", {0, -1}}, {"hole.joint", "joint 1", {1, 0}},
               {"hole.end", "front face", {-1, 0}},  {"hole.end", "butt", {1, 0}}};
  for (const auto& move : moves) {
    INFO(move.id << " " << move.word);
    Design design = plain_design();
    const bool tang = std::string_view(move.id) == "hole.tang_edge";
    const auto before = the(design, move.id, {"pin 1", tang ? "tang" : "left", move.word});
    for (const double step : {0.25, 1.0, 3.5}) {
      design.pins[0].at_mm = Vec2{20, -2} + move.way * step;
      const auto after = the(design, move.id, {"pin 1", tang ? "tang" : "left", move.word});
      CHECK(after.value == exactly(before.value - step));
      CHECK(after.limit == before.limit);
    }
  }
}

TEST_CASE("Hole to round-over: the flat left on the surface") {
  Design design = plain_design();
  CHECK(the(design, "hole.land", {"pin 1", "left"}).value == exactly(10.5 - kRadius));
  // On a flat top the round-over is a quarter circle: it reaches in by its radius.
  design.left.finish.round_over_mm = 2;
  CHECK(the(design, "hole.land", {"pin 1", "left"}).value == exactly(10.5 - kRadius - 2));
  CHECK(the(design, "hole.land", {"pin 1", "left"}).place->z == exactly(2 + 8));
}

TEST_CASE("Hole to tang edge: by the tang's own hole") {
  Design design = plain_design();
  design.pins[1].tang_hole.diameter_mm = 5;
  design.pins[1].at_mm = {105, 0};
  const auto finding = the(design, "hole.tang_edge", {"pin 2", "toward the butt"});
  CHECK(finding.value == exactly(5 - 2.5));
  CHECK(finding.limit == exactly(5));
  CHECK(finding.status == Status::fail);
}

TEST_CASE("A hole the tang has already counts with its own diameter") {
  Design design = plain_design();
  design.tang.holes = {{"old", {20, -2}, 4}};
  design.pins[0].tang_hole = {};
  design.pins[0].existing_tang_hole = "old";
  const auto findings = findings_of(design);
  CHECK(the(findings, "hole.tang_edge", {"pin 1"}).value == exactly(10.5 - 2));
  CHECK(the(findings, "pin.fit", {"pin 1", "tang"}).value == exactly(1));
  // Its own hole is no obstacle; for the other pin it is one.
  CHECK(those(findings, "hole.cutout", {"pin 1"}).empty());
  const auto other = the(findings, "hole.cutout", {"pin 2", "tang hole"});
  CHECK(other.value == exactly(60 - 2 - kRadius));
}

TEST_CASE("Hole to cutout: steel left in between, negative when they run into each other") {
  Design design = plain_design();
  design.tang.cutouts = {{{{40, -5}}, {{60, -5}}, {{60, 5}}, {{40, 5}}}};
  CHECK(the(design, "hole.cutout", {"pin 1", "cutout 1"}).value == exactly(20 - kRadius));
  design.pins[0].at_mm = {39, 0};
  CHECK(the(design, "hole.cutout", {"pin 1", "cutout 1"}).value == exactly(1 - kRadius));
  CHECK(the(design, "hole.cutout", {"pin 1", "cutout 1"}).status == Status::fail);
}

TEST_CASE("Hole to joint: square joint, same distance at every depth") {
  const auto finding = the(plain_design(), "hole.joint", {"pin 1", "left side", "joint 1"});
  CHECK(finding.value == exactly(30));
  CHECK(finding.limit == exactly(2 * 3.08));
}

TEST_CASE("Hole to joint: a raked joint comes nearer at the surface or at the inner face") {
  Design design = plain_design();
  design.left.joints[0].rake_deg = 45;  // the line walks 7 mm toward the butt on its way out
  const auto findings = findings_of(design);
  const auto front = the(findings, "hole.joint", {"pin 1", "left", "inner face"});
  CHECK(front.value == exactly(30));
  CHECK(front.place->z == exactly(3));
  const auto rear = the(findings, "hole.joint", {"pin 2", "left", "finished surface"});
  CHECK(rear.value == exactly(30 - 7));
  CHECK(rear.place->z == exactly(10));
}

TEST_CASE("Hole to joint: a slanted joint is measured square to its line") {
  Design design = plain_design();
  design.left.joints[0].slant_deg = 30;
  const double tan30 = std::tan(std::numbers::pi / 6);
  const double expected = (50 + -2 * tan30 - 20) * std::cos(std::numbers::pi / 6);
  CHECK(the(design, "hole.joint", {"pin 1", "left"}).value == exactly(expected));
}

TEST_CASE("Hole to joint: a joint that crosses the hole on its way out is at distance 0 there") {
  Design design = plain_design();
  design.left.joints[0].rake_deg = 45;
  design.pins[0].at_mm = {53, 0};  // crossed 3 mm above the inner face
  const auto finding = the(design, "hole.joint", {"pin 1", "left", "3.00 mm above the inner face"});
  CHECK(finding.value == exactly(0));
  CHECK(finding.status == Status::fail);
  CHECK(finding.why.find("cuts the joint line") != std::string::npos);
}

TEST_CASE("Hole to joint: measured to the nearer face of the spacer stack, negative inside it") {
  Design design = plain_design();
  design.left.joints[0].spacers = {{"brass_c26000", 1}, {"vulcanized_fibre", 1}};
  CHECK(the(design, "hole.joint", {"pin 1", "left"}).value == exactly(29));
  CHECK(the(design, "hole.joint", {"pin 2", "left"}).value == exactly(29));
  design.pins[0].at_mm = {50.25, 0};
  CHECK(the(design, "hole.joint", {"pin 1", "left"}).value == exactly(-0.75));
  // Raked as well: deepest in the stack where the axis crosses its middle.
  design.left.joints[0].rake_deg = 45;
  design.pins[0].at_mm = {53, 0};
  const auto crossed = the(design, "hole.joint", {"pin 1", "left", "3.00 mm above the inner face"});
  CHECK(crossed.value == exactly(-std::numbers::sqrt2));  // half of 2 mm square to the joint, along x
}

TEST_CASE("Hole to joint agrees with walking along the axis in small steps") {
  Design design = plain_design();
  design.left.joints[0].spacers = {{"brass_c26000", 1.5}};
  for (const double rake : {-40.0, -10.0, 0.0, 25.0})
    for (const double slant : {-30.0, 0.0, 20.0})
      for (const double x : {40.0, 46.0, 49.0, 51.0, 56.0, 62.0}) {
        design.left.joints[0].rake_deg = rake;
        design.left.joints[0].slant_deg = slant;
        design.pins[0].at_mm = {x, 3};
        const auto handle = lay_out(design);
        const auto& lines = handle.left.joints[0].lines;
        double least = 1e9;
        constexpr int kSteps = 7000;
        for (int i = 0; i <= kSteps; ++i) {
          const double s = 7.0 * i / kSteps;
          const Vec2 normal = glm::normalize(Vec2{1, -lines[0].plane.tan_slant});
          const double before = glm::dot(Vec2{lines[0].plane.x_at(3, s) - x, 0}, normal);
          const double behind = glm::dot(Vec2{x - lines[1].plane.x_at(3, s), 0}, normal);
          least = std::min(least, std::max(before, behind));
        }
        INFO("rake " << rake << " slant " << slant << " x " << x);
        CHECK(the(run_checks(design, handle), "hole.joint", {"pin 1", "left"}).value ==
              Approx(least).margin(2e-3));
      }
}

TEST_CASE("Hole to front face: through the whole thickness; hole to butt in plan") {
  Design design = plain_design();
  CHECK(the(design, "hole.end", {"pin 1", "left", "front face"}).value == exactly(20));
  CHECK(the(design, "hole.end", {"pin 2", "left", "butt"}).value == exactly(30));
  CHECK(the(design, "hole.end", {"pin 2", "left", "butt"}).limit == exactly(2.5 * 3.08));
  design.left.front.rake_deg = 45;
  const auto outward = the(design, "hole.end", {"pin 1", "left", "front face", "finished surface"});
  CHECK(outward.value == exactly(13));
  design.left.front.rake_deg = -45;
  CHECK(the(design, "hole.end", {"pin 1", "left", "front face", "inner face"}).value == exactly(20));
  design.left.butt_proud_mm = 1.5;
  CHECK(the(design, "hole.end", {"pin 2", "left", "butt"}).value == exactly(31.5));
}

TEST_CASE("Hole to butt: square to a butt that is slanted, radial to one that is round") {
  Design design = plain_design();
  // The butt runs from (110, -12.5) to (100, 12.5): outward normal (25, 10).
  design.tang.outline = {{{-8, -12.5}}, {{110, -12.5}}, {{100, 12.5}}, {{-8, 12.5}}};
  design.pins[1].at_mm = {94, -2};
  const double square = ((110 - 94) * 25 + (-12.5 + 2) * 10) / std::hypot(25, 10);
  const auto slanted = the(design, "hole.end", {"pin 2", "left", "butt"});
  CHECK(slanted.value == exactly(square));
  CHECK(slanted.value < 110 - 10 * 10.5 / 25 - 94);  // less than along the handle
  CHECK(glm::distance(*slanted.place, *slanted.to) == exactly(square));
  // A round butt about (97.5, 0), from a place off its axis; the nearest place that still faces the butt.
  design.tang.outline = {{{-8, -12.5}}, {{97.5, -12.5}, 1}, {{97.5, 12.5}}, {{-8, 12.5}}};
  design.pins[1].at_mm = {97.5 + 4, 3};
  CHECK(the(design, "hole.end", {"pin 2", "left", "butt"}).value == exactly(12.5 - 5));
  design.pins[1].at_mm = {97.5, 3};
  const double half = std::numbers::sqrt2 / 2;
  CHECK(the(design, "hole.end", {"pin 2", "left", "butt"}).value ==
        exactly(std::hypot(12.5 * half, 12.5 * half - 3)));
}

TEST_CASE(
    "Hole to round-over: a crown brings it in at the spine, and the butt's is seen past a nearer edge") {
  Design design = plain_design();
  design.left.finish = {
      .thickness_mm = {{0, 10}}, .crown_radius_mm = 40, .crest_y_mm = 0, .round_over_mm = 4};
  for (auto& piece : design.left.pieces) piece.blank.thickness_mm = 12;
  design.left.liners.clear();
  // Across the crown: a ball of radius 4 at 8.5 from the axis touches the crown on the ray from the crown's
  // centre through its own, at 8.5 * 40 / 36.
  design.pins[1].at_mm = {80, -2};
  CHECK(the(design, "hole.land", {"pin 2", "left", "toward the belly"}).value ==
        Approx(8.5 * 40 / 36 - 2 - kRadius).margin(1e-6));
  // The butt's starts 4 mm in. The belly is nearer than the butt, but its round-over is not.
  design.pins[1].at_mm = {103, 1.5};
  CHECK(the(design, "hole.edge", {"pin 2", "left", "toward the butt"}).value == exactly(7 - kRadius));
  CHECK(the(design, "hole.land", {"pin 2", "left", "toward the butt"}).value ==
        Approx(3 - kRadius).margin(1e-6));
  design.tang.outline = {{{-8, -8.5}}, {{110, -8.5}}, {{110, 16.5}}, {{-8, 16.5}}};
  design.left.finish = {
      .thickness_mm = {{0, 16}}, .crown_radius_mm = 40, .crest_y_mm = 0, .round_over_mm = 4};
  for (auto& piece : design.left.pieces) piece.blank.thickness_mm = 17;
  design.pins[1].at_mm = {101.2, 0};  // belly at 8.5, butt at 8.8
  const double belly_start = (8.5 - 4) * 40 / (40 - 4);
  const auto land = the(design, "hole.land", {"pin 2", "left"});
  CHECK(the(design, "hole.edge", {"pin 2", "left", "toward the belly"}).value == exactly(8.5 - kRadius));
  CHECK(land.where.at.toward == Toward::butt);
  CHECK(land.value == Approx(4.8 - kRadius).margin(1e-6));
  CHECK(land.value < belly_start - kRadius);
}

TEST_CASE("Hole to hole: holes that run into each other fail whatever the rule, and name both pins") {
  Design design = plain_design();
  design.rules.spacing_diameters = 0;
  design.rules.near_share = 0;
  design.pins[1].at_mm = {23.08, -2};
  CHECK(the(design, "hole.spacing").status == Status::pass);  // they touch
  design.pins[1].at_mm = {23, -2};
  const auto pair = the(design, "hole.spacing", {"pin 1 (front)", "pin 2 (rear)"});
  CHECK(pair.status == Status::fail);
  CHECK(pair.value == exactly(3));
  CHECK(pair.limit == exactly(3.08));
  CHECK(pair.why.find("run into each other (scales, liners and tang)") != std::string::npos);
  // In one layer only, here the liners'.
  design.pins[1].at_mm = {30, -2};
  design.pins[1].liner_hole.diameter_mm = 20;
  CHECK(the(design, "hole.spacing").status == Status::fail);
  CHECK(the(design, "hole.spacing").why.find("(liners)") != std::string::npos);
  // Every such pair is told, not only the tightest.
  design = plain_design();
  for (const double x : {21.0, 22.0}) {
    design.pins.push_back(design.pins[0]);
    design.pins.back().name = std::to_string(static_cast<int>(x));
    design.pins.back().at_mm.x = x;
  }
  int told = 0;
  for (const Finding& finding : those(findings_of(design), "hole.spacing"))
    told += finding.why.find("run into each other") != std::string::npos ? 1 : 0;
  CHECK(told == 3);
}

TEST_CASE("Hole to hole: two pins are one finding, in a row each neighbour is told") {
  Design design = plain_design();
  CHECK(the(design, "hole.spacing").value == exactly(60));
  CHECK(the(design, "hole.spacing").limit == exactly(4 * 3.08));
  design.pins.push_back(design.pins[1]);
  design.pins[2].name = "third";
  design.pins[2].at_mm = {92, -2};
  design.pins[2].scale_hole.diameter_mm = 3.1;
  const auto findings = findings_of(design);
  CHECK(those(findings, "hole.spacing").size() == 2);
  const auto pair = the(findings, "hole.spacing", {"pin 2", "pin 3"});
  CHECK(pair.value == exactly(12));
  CHECK(pair.limit == exactly(4 * 3.1));  // the larger of the two
  CHECK(pair.status == Status::fail);
}
