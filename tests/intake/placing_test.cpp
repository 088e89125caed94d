// A part taken out of a drawing and laid along x.
#include <cmath>
#include <numbers>

#include "drawings.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using Catch::Matchers::Contains;

namespace {

// 110 long and 30 high, wedge-shaped, with a hole at a quarter of its length and a cutout.
std::string wedge() {
  return dxf(dxf_polyline({{{100, 50}, 0}, {{210, 45}, 0}, {{210, 75}, 0}, {{100, 70}, 0}}, true) +
             dxf_circle({127.5, 62}, 1.5) +
             dxf_polyline({{{150, 55}, 0}, {{160, 55}, 0}, {{160, 60}, 1}}, true) +
             dxf_circle({157, 57}, 0.4));
}

intake::PlacedPart placed(const intake::Placing& placing, const std::string& text = wedge()) {
  const intake::Loops loops = loops_of(text);
  return intake::place(loops, intake::outermost(loops).at(0), placing);
}

void check_hole(const intake::PlacedPart& part, double x, double y) {
  REQUIRE(part.holes.size() == 1);
  CHECK(part.holes[0].centre.x == nearly(x));
  CHECK(part.holes[0].centre.y == nearly(y));
  CHECK(part.holes[0].diameter_mm == nearly(3));
  const Outline outline(part.outline);
  CHECK(outline.area_mm2() == nearly(110 * 25));
  CHECK(outline.contains(part.holes[0].centre));
  REQUIRE(part.cutouts.size() == 1);
  CHECK(contains(outline, Outline(part.cutouts[0])));
}

}  // namespace

TEST_CASE("as drawn, the front at the left end, the axis along the middle") {
  const auto part = placed({});
  check_hole(part, 27.5, 2);
  CHECK(part.length_mm == nearly(110));
  CHECK(part.height_mm == nearly(30));
  CHECK(part.turned_deg == 0);
  CHECK(part.islands == 1);
  // Whole numbers of the drawing stay whole.
  CHECK(part.outline[0].at == Vec2{0, -10});
}

TEST_CASE("front face, front end, mirrored, turned") {
  check_hole(placed({.front_mm = 20}), 7.5, 2);
  CHECK(placed({.front_mm = 20}).length_mm == nearly(90));
  check_hole(placed({.front_right = true}), 82.5, -2);
  check_hole(placed({.mirror = true}), 27.5, -2);
  check_hole(placed({.mirror = true, .front_right = true, .front_mm = 2.5}), 80, 2);
  check_hole(placed({.turn_deg = 180}), 82.5, -2);
  const auto full = placed({.turn_deg = -360});
  CHECK(full.outline == placed({}).outline);
}

TEST_CASE("a part that stands is laid down, its top to the right") {
  // Turned counter-clockwise by a quarter: the front, at the left, is at the bottom then.
  const std::string upright =
      dxf(dxf_polyline({{{-50, 100}, 0}, {{-45, 210}, 0}, {{-75, 210}, 0}, {{-70, 100}, 0}}, true) +
          dxf_circle({-62, 127.5}, 1.5) +
          dxf_polyline({{{-55, 150}, 0}, {{-55, 160}, 0}, {{-60, 160}, 1}}, true));
  const auto part = placed({}, upright);
  CHECK(part.turned_deg == -90);
  check_hole(part, 27.5, 2);
}

TEST_CASE("an axis through two places becomes y = 0, in the drawing or in its mirror image") {
  const double slope = std::atan2(12, 100);
  for (const bool mirror : {false, true}) {
    const auto part = placed({.mirror = mirror, .axis = intake::AxisPoints{{110, 56}, {210, 68}}});
    CHECK(std::abs(part.turned_deg) == nearly(slope * 180 / std::numbers::pi));
    // The hole's distance from the line, by the line's own formula.
    const double off = ((127.5 - 110) * -12 + (62 - 56) * 100) / std::hypot(100, 12);
    CHECK(part.holes[0].centre.y == Approx(mirror ? -off : off).margin(1e-6));
    CHECK(Outline(part.outline).bounds().low.x == Approx(0).margin(1e-6));
  }
  CHECK_THROWS_WITH(placed({.axis = intake::AxisPoints{{1, 1}, {1, 1}}}), Contains("two different places"));
}

TEST_CASE("a front behind the part, and a spoilt line in it, are refused") {
  CHECK_THROWS_AS(placed({.front_mm = 110}), intake::IntakeError);
  CHECK_THROWS_AS(placed({.front_mm = -1}), intake::IntakeError);
  const std::string crossing =
      dxf_polyline({{{110, 60}, 0}, {{112, 62}, 0}, {{112, 60}, 0}, {{110, 62}, 0}}, true);
  const std::string text =
      dxf(dxf_polyline({{{100, 50}, 0}, {{210, 45}, 0}, {{210, 75}, 0}, {{100, 70}, 0}}, true) + crossing);
  CHECK_THROWS_WITH(placed({}, text), Contains("can't be used"));
}
