// Filling flat shapes: the triangles' areas make up the shape, whichever way it was drawn.
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "haftwright/preview/ear_clipping.hpp"

using namespace haftwright;

namespace {

double filled_area(const std::vector<Vec2>& loop, const std::vector<std::vector<Vec2>>& openings) {
  std::vector<Vec2> corners = loop;
  for (const auto& opening : openings) corners.insert(corners.end(), opening.begin(), opening.end());
  double sum = 0;
  for (const auto& [a, b, c] : fill(loop, openings)) {
    const double area = cross(corners.at(b) - corners.at(a), corners.at(c) - corners.at(a)) / 2;
    CHECK(area > -1e-12);
    sum += area;
  }
  return sum;
}

std::vector<Vec2> reversed(std::vector<Vec2> loop) {
  return {loop.rbegin(), loop.rend()};
}

}  // namespace

TEST_CASE("a hollow shape is filled without its hollow, either way round") {
  // An L of 10 x 10 less 6 x 6, with a 1 x 2 opening in its foot.
  const std::vector<Vec2> loop{{0, 0}, {10, 0}, {10, 4}, {4, 4}, {4, 10}, {0, 10}};
  const std::vector<Vec2> opening{{6, 1}, {7, 1}, {7, 3}, {6, 3}};
  CHECK(filled_area(loop, {}) == Approx(64).epsilon(1e-12));
  CHECK(filled_area(reversed(loop), {}) == Approx(64).epsilon(1e-12));
  CHECK(filled_area(loop, {opening}) == Approx(62).epsilon(1e-12));
  CHECK(filled_area(reversed(loop), {reversed(opening)}) == Approx(62).epsilon(1e-12));
  CHECK(fill({{0, 0}, {1, 1}}).empty());
  CHECK(fill({{0, 0}, {1, 1}}, {opening}).empty());
}
