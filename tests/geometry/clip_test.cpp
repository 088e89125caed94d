// Half-plane clipping, crossings, drawn-out ends and polylines.
#include <catch2/catch.hpp>
#include <numbers>

#include "haftwright/geometry/outline_ops.hpp"

using namespace haftwright;
using std::numbers::pi;

namespace {

double total_area_mm2(const std::vector<Outline>& outlines) {
  double sum = 0;
  for (const Outline& outline : outlines) sum += outline.area_mm2();
  return sum;
}

Outline rectangle(Vec2 low, Vec2 high) {
  return Outline({{low, 0}, {{high.x, low.y}, 0}, {high, 0}, {{low.x, high.y}, 0}});
}

Outline circle(Vec2 centre, double r) {
  return Outline({{centre - Vec2{r, 0}, 1}, {centre + Vec2{r, 0}, 1}});
}

Outline stadium(double a, double r) {
  return Outline({{{0, -r}, 0}, {{a, -r}, 1}, {{a, r}, 0}, {{0, r}, 1}});
}

}  // namespace

TEST_CASE("clipping a circle leaves the circular segment of its closed form") {
  const double r = 7;
  for (const double d : {-6.9, -3.0, 0.0, 1.0, 5.5, 6.999}) {
    const auto parts = clip(circle({2, -1}, r), {{0, 2}, 2 * (d - 1)});
    REQUIRE(parts.size() == 1);
    const double a = std::acos(-d / r);
    CHECK(parts[0].area_mm2() == Approx(r * r * (a - std::sin(a) * std::cos(a))).epsilon(1e-12));
  }
  CHECK(clip(circle({0, 0}, r), {{1, 0}, -7}).empty());
  CHECK(clip(circle({0, 0}, r), {{1, 0}, 7}).front() == circle({0, 0}, r));
}

TEST_CASE("a line through two corners of a square crosses there, past one corner it does not") {
  const Outline square = rectangle({0, 0}, {10, 10});
  const auto through = crossings(square, {-3, -3}, {1, 1});
  REQUIRE(through.size() == 2);
  CHECK(through[0].along_mm == Approx(3 * std::sqrt(2.0)));
  CHECK(through[1].along_mm == Approx(13 * std::sqrt(2.0)));
  CHECK(crossings(square, {-1, 1}, {1, -1}).empty());
  CHECK(crossings(square, {-1, 0}, {1, 0}).empty());
}

TEST_CASE("drawing out a rectangle's end adds its height times the distance") {
  const Outline box = rectangle({0, -8}, {100, 12});
  for (const End end : {End::front, End::butt}) {
    const Outline drawn = drawn_out(box, end, 6);
    CHECK(drawn.area_mm2() == Approx(box.area_mm2() + 20 * 6));
    CHECK(drawn.bounds().size().x == Approx(106));
    CHECK(drawn.bounds().low.x == Approx(end == End::front ? -6 : 0));
    CHECK(drawn_out(box, end, 0) == box);
  }
}

TEST_CASE("drawing out a round butt moves the round as it is") {
  const Outline drawn = drawn_out(stadium(40, 9), End::butt, 3);
  CHECK(drawn.area_mm2() == Approx(stadium(43, 9).area_mm2()).epsilon(1e-14));
  CHECK(drawn.depth_mm({52, 0}) == Approx(0).margin(1e-12));
}

TEST_CASE("what a line cuts off and what it leaves make the whole") {
  const Outline shape = stadium(40, 9);
  for (int i = 0; i < 500; ++i) {
    const double angle = 0.37 * i;
    const Vec2 normal{std::cos(angle), std::sin(angle)};
    const double limit = glm::dot(normal, Vec2{20, 0}) + 30 * std::sin(1.7 * i);
    const double kept = total_area_mm2(clip(shape, {normal, limit}));
    const double off = total_area_mm2(clip(shape, {-normal, -limit}));
    CHECK(std::abs(kept + off - shape.area_mm2()) < 1e-9);
  }
}
