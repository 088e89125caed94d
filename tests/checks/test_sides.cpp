#include <cmath>
#include <numbers>

#include "plain_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

double tan_deg(double degrees) {
  return std::tan(degrees * std::numbers::pi / 180);
}

Design with_right_joint(Joint joint) {
  Design design = plain_design();
  design.right.joints = std::vector<Joint>{std::move(joint)};
  return design;
}

}  // namespace

TEST_CASE("Linked sides meet everywhere") {
  Design design = plain_design();
  design.left.joints[0] = {.place_mm = 50, .slant_deg = 20, .rake_deg = 15, .spacers = {{"brass_c26000", 1}}};
  const auto findings = findings_of(design);
  for (const char* id : {"align.count", "align.spine", "align.belly", "align.angle", "align.front"})
    for (const auto& finding : those(findings, id)) {
      CHECK(finding.value == 0);
      CHECK(finding.status == Status::pass);
    }
  // Two lines, two faces: four places at each edge.
  CHECK(those(findings, "align.spine").size() == 4);
  CHECK(those(findings, "align.belly").size() == 4);
  CHECK(those(findings, "align.front").size() == 4);
}

TEST_CASE("A joint set off on one side misses by as much everywhere") {
  const auto findings = findings_of(with_right_joint({.place_mm = 50.3}));
  for (const char* id : {"align.spine", "align.belly"})
    for (const char* face : {"inner face", "finished surface"}) {
      const auto finding = the(findings, id, {"joint 1", face});
      CHECK(finding.value == exactly(0.3));
      CHECK(finding.limit == 0.1);
      CHECK(finding.status == Status::fail);
    }
  CHECK(the(findings, "align.angle", {"joint 1", "slant"}).value == 0);
}

TEST_CASE("A step of exactly the limit does not fail") {
  Design design = with_right_joint({.place_mm = 50.1});
  design.rules.near_share = 0;
  CHECK(the(design, "align.spine", {"inner face"}).status == Status::pass);
}

TEST_CASE("A joint that slants more on one side misses by turns at the spine and the belly") {
  const auto findings = findings_of(with_right_joint({.place_mm = 50, .slant_deg = 1}));
  const double miss = 12.5 * tan_deg(1);
  CHECK(the(findings, "align.spine", {"inner face"}).value == exactly(miss));
  CHECK(the(findings, "align.belly", {"inner face"}).value == exactly(miss));
  const auto angle = the(findings, "align.angle", {"joint 1", "slant"});
  CHECK(angle.value == exactly(1));
  CHECK(angle.unit == FigureUnit::degree);
  CHECK(angle.status == Status::fail);
  CHECK(the(findings, "align.angle", {"joint 1", "rake"}).value == exactly(0));
}

TEST_CASE("A joint that rakes more on one side meets on the inner face and misses on the surface") {
  const auto findings = findings_of(with_right_joint({.place_mm = 50, .rake_deg = 5}));
  CHECK(the(findings, "align.spine", {"inner face"}).value == exactly(0));
  CHECK(the(findings, "align.spine", {"finished surface"}).value == exactly(7 * tan_deg(5)));
  CHECK(the(findings, "align.angle", {"joint 1", "rake"}).value == exactly(5));
}

TEST_CASE("Equal rakes miss where the sides are unequally thick") {
  Design design = plain_design();
  design.left.joints[0].rake_deg = 30;
  design.right.finish = Finish{.thickness_mm = {{0, 8.4}}};
  const auto findings = findings_of(design);
  CHECK(the(findings, "align.spine", {"inner face"}).value == exactly(0));
  CHECK(the(findings, "align.spine", {"finished surface"}).value == exactly(0.4 * tan_deg(30)));
  CHECK(the(findings, "thickness.agree").value == exactly(0.4));
  CHECK(the(findings, "thickness.agree").status == Status::fail);
}

TEST_CASE("Thickness is compared between the stations too") {
  Design design = plain_design();
  design.left.finish.thickness_mm = {{0, 8}, {110, 8}};
  design.right.finish = Finish{.thickness_mm = {{0, 8}, {37.13, 8.7}, {110, 8}}};
  const auto finding = the(design, "thickness.agree");
  CHECK(finding.value == exactly(0.7));
  CHECK(finding.place->x == exactly(37.13));
  // A hump that no station of either side stands on: 1 mm up on one side, down on the other, 20 mm apart.
  design.left.finish.thickness_mm = {{20, 8}, {40, 9}};
  design.right.finish = Finish{.thickness_mm = {{30, 8}, {50, 9}}};
  CHECK(the(design, "thickness.agree").value > 0.5);
}

TEST_CASE("Another number of joints or strips fails by name") {
  Design design = plain_design();
  design.right.joints = std::vector<Joint>{{.place_mm = 40}, {.place_mm = 60}};
  design.right.pieces = std::vector<Piece>(3, design.left.pieces[0]);
  auto finding = the(design, "align.count", {"joints"});
  CHECK(finding.why.find("1 on the left and 2 on the right") != std::string::npos);
  CHECK(finding.value == 1);
  CHECK(finding.unit == FigureUnit::count);
  CHECK(finding.status == Status::fail);

  const auto strips = findings_of(with_right_joint({.place_mm = 50, .spacers = {{"g10", 1}}}));
  CHECK(the(strips, "align.count", {"joints"}).status == Status::pass);
  CHECK(the(strips, "align.count", {"joint 1"}).status == Status::fail);
}

TEST_CASE("Front faces are held against each other") {
  Design design = plain_design();
  design.right.front = FrontFace{.place_mm = 0.4, .rake_deg = 2};
  const auto findings = findings_of(design);
  CHECK(the(findings, "align.front", {"spine", "inner face"}).value == exactly(0.4));
  CHECK(the(findings, "align.front", {"belly", "finished surface"}).value == exactly(0.4 + 7 * tan_deg(2)));
  CHECK(the(findings, "align.angle", {"front face", "rake"}).value == exactly(2));
}

TEST_CASE("A raked joint says how far it walks in shaping") {
  Design design = plain_design();
  design.left.joints[0].rake_deg = -20;
  const auto finding = the(design, "joint.walk", {"joint 1", "left"});
  CHECK(finding.value == exactly(0.1 * tan_deg(20)));
  CHECK(finding.limit == 0.1);
  CHECK(finding.why.find("toward the butt") != std::string::npos);
  // The same from the layout itself: thin the scale by 0.1 mm and see where the line has gone.
  const double before = lay_out(design).left.joints[0].lines[0].spine.outer.x;
  design.left.finish.thickness_mm = {{0, 7.9}};
  const double after = lay_out(design).left.joints[0].lines[0].spine.outer.x;
  CHECK(after - before == exactly(finding.value));
}

TEST_CASE("Sides that differ in thickness say where behind the front face, never ahead of it") {
  Design design = plain_design();
  design.left.front = {.place_mm = -5.46, .slant_deg = -10};
  design.right.finish = Finish{.thickness_mm = {{-20, 9}, {110, 8}}};
  const auto finding = the(design, "thickness.agree");
  CHECK(where_words(design, finding.where) == "on the crest, 0.00 mm behind the front face");
  CHECK(finding.place->x == Approx(-5.46).margin(1e-9));
  CHECK(finding.value == Approx((110 + 5.46) / 130).margin(1e-3));
  // With a raked front, where the crest meets it on the finished surface of the thicker side.
  design.left.front.rake_deg = 5;
  const double s = the(design, "thickness.agree").value + 7;
  CHECK(the(design, "thickness.agree").place->x == Approx(-5.46 + s * tan_deg(5)).margin(1e-9));
  // Fronts apart: behind the one that lies farther back.
  design.left.front = {};
  design.right.front = FrontFace{.place_mm = 3};
  CHECK(where_words(design, the(design, "thickness.agree").where) ==
        "on the crest, 0.00 mm behind the right front face");
  CHECK(the(design, "thickness.agree").place->x == Approx(3).margin(1e-9));
}
