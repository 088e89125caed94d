// The drill guide's body against closed forms, on a plan made by hand.
#include <catch2/catch.hpp>
#include <numbers>

#include "haftwright/solids/solids.hpp"
#include "step_checks.hpp"
#include "support/hand_made_guide.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

constexpr double kPi = std::numbers::pi;

/// A 120 x 60 x 12 plate with everything a guide can have.
DrillGuide hand_made() {
  return test::hand_made_guide(test::box(0, 0, 120, 60));
}

double hand_made_volume() {
  const double plate = 120 * 60 * 12;
  const double fences = 2 * kPi * 16 * 2 * 5;
  const double holes = kPi / 4 * (3.25 * 3.25 + 9.55 * 9.55 + 6 * 6) * 12 + 5 * 9 * 12;
  const double marks = (1.5 * 10 + 4.5 * 1.5 + 1.5 * 10) * 0.5;
  return plate + fences - holes - marks;
}

}  // namespace

TEST_CASE("the guide is one closed solid of the right volume") {
  const auto made = build_guide(hand_made());
  const Bodies& bodies = *made;
  REQUIRE(bodies.facts().size() == 1);
  const BodyFacts& facts = bodies.facts().front();
  CHECK(facts.closed_and_valid);
  CHECK(facts.volume_mm3 == Approx(hand_made_volume()).epsilon(1e-9));
  CHECK(glm::distance(facts.low, Vec3(0, 0, -11)) < 1e-6);
  CHECK(glm::distance(facts.high, Vec3(120, 60, 11)) < 1e-6);
  CHECK(facts.bore_radii_mm.size() == 3);
  CHECK(has_bore(facts, {30, 30}, 3.25 / 2));
  CHECK(has_bore(facts, {80, 28}, 9.55 / 2));
  CHECK(has_bore(facts, {10, 30}, 3));
}

namespace {

constexpr double kWedgeSlope = -0.03;

/// The same as a wedge that loses 0.03 mm of thickness a mm.
DrillGuide hand_made_wedge() {
  DrillGuide guide = hand_made();
  guide.thickness_slope = kWedgeSlope;
  return guide;
}

/// What goes upright through a wedge takes its area times the thickness at its centroid.
double wedge_volume() {
  const auto thick = [](double x) { return 12 + kWedgeSlope * x; };
  const double plate = 120 * 60 * thick(60);
  // A fence's top is level: over its own half of the face it fills as much as it leaves out on the other.
  const double fences = 2 * kPi * 16 * 2 * 5;
  const double holes =
      kPi / 4 * (3.25 * 3.25 * thick(30) + 9.55 * 9.55 * thick(80) + 36 * thick(10)) + 45 * thick(57.5);
  const double marks = (1.5 * 10 + 4.5 * 1.5 + 1.5 * 10) * 0.5;  // pockets of even depth along z
  return plate + fences - holes - marks;
}

}  // namespace

TEST_CASE("a guide for a tapered tang is a wedge whose bores stand square to its middle") {
  const auto made = build_guide(hand_made_wedge());
  const Bodies& bodies = *made;
  const BodyFacts& facts = bodies.facts().front();
  CHECK(facts.closed_and_valid);
  CHECK(facts.volume_mm3 == Approx(wedge_volume()).epsilon(1e-9));
  CHECK(facts.bore_radii_mm.size() == 3);
  // Both faces at half the taper, mirror images about the mid-plane.
  for (const Vec2 at : {Vec2{20, 55}, Vec2{115, 55}, Vec2{62, 30}})
    for (const bool left : {true, false})
      CHECK(bodies.outermost_z(0, at, left) == test::nearly((left ? 1 : -1) * (12 + kWedgeSlope * at.x) / 2));
  // check_step holds each bore's axis to z, as a reader that is not the kernel's finds it.
  const auto file = check_step(bodies, bodies.step_text("wedge"), "wedge");
  CHECK(part21::shells(file).front().genus() == 4);
}

TEST_CASE("the guide's STEP text holds what was built") {
  const auto made = build_guide(hand_made());
  const Bodies& bodies = *made;
  const std::string text = bodies.step_text("drill guide, oyster knife");
  const part21::File file = check_step(bodies, text, "drill guide, oyster knife");
  const auto shells = part21::shells(file);
  // Two bores, one hole for a loose pin, one window: a body that lost one would have another genus.
  CHECK(shells.front().genus() == 4);
  CHECK(file.all("B_SPLINE_SURFACE_WITH_KNOTS").empty());
}

TEST_CASE("a guide that falls into pieces is refused") {
  DrillGuide guide = hand_made();
  guide.windows.push_back({.outline = test::box(65, -1, 66, 61)});
  CHECK_THROWS_AS(build_guide(guide), SolidError);
}

TEST_CASE("a cancelled guide job stops") {
  std::stop_source stop;
  JobContext job;
  job.stop = stop.get_token();
  int begun = 0;
  job.progress = [&](double, const std::string&) {
    if (++begun > 1) stop.request_stop();
  };
  CHECK_THROWS_AS(build_guide(hand_made(), job), Cancelled);
}
