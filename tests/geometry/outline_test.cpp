#include <catch2/catch.hpp>
#include <numbers>

#include "haftwright/geometry/outline.hpp"

using namespace haftwright;
using std::numbers::pi;

TEST_CASE("a stadium has the area, centroid and second moments of its closed form") {
  const double a = 20;
  const double r = 5;
  const Outline stadium({{{0, -r}, 0}, {{a, -r}, 1}, {{a, r}, 0}, {{0, r}, 1}});
  const Moments m = stadium.moments();
  CHECK(m.area_mm2 == Approx(2 * r * a + pi * r * r).epsilon(1e-13));
  CHECK(m.centroid.x == Approx(a / 2).epsilon(1e-13));
  CHECK(std::abs(m.centroid.y) < 1e-13);
  CHECK(m.ixx_mm4 == Approx(a * 8 * r * r * r / 12 + pi * r * r * r * r / 4).epsilon(1e-13));
  CHECK(stadium.bounds().low.x == Approx(-5));
  CHECK(stadium.bounds().high.x == Approx(25));
  CHECK(stadium.depth_mm({10, 0}) == Approx(5));
  CHECK(stadium.depth_mm({-3, 4}) == Approx(0).margin(1e-14));
  CHECK(stadium.depth_mm({30, 0}) == Approx(-5));
  CHECK(stadium.nearest({30, 0}).t == Approx(0.5));
  CHECK(stadium.nearest({30, 0}).edge == 1);
}
