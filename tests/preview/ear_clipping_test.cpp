// Filling flat shapes: the triangles' areas make up the shape, whichever way it was drawn.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <numeric>

#include "haftwright/preview/ear_clipping.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"

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

TEST_CASE("many round openings in a plate: no triangle turned over, the whole area filled") {
  // Bridges of several openings often end on one corner; the wrong copy of it folds the filling over itself.
  test::Random random(4);
  for (int round = 0; round < 60; ++round) {
    const std::vector<Vec2> plate{{0, 0}, {100, 0}, {100, 40}, {0, 40}};
    std::vector<std::vector<Vec2>> openings;
    double area = 100 * 40;
    for (int x = 0; x < 10; ++x)
      for (int y = 0; y < 4; ++y) {
        const double radius = random.between(0.5, 3.5);
        const Vec2 middle{5.0 + 10 * x + random.between(-1, 1), 5.0 + 10 * y + random.between(-1, 1)};
        std::vector<Vec2> loop;
        for (int k = 0; k < 12; ++k) {
          const double angle = k * std::numbers::pi / 6;
          loop.push_back(middle + radius * Vec2{std::cos(angle), std::sin(angle)});
        }
        area -= 3 * radius * radius;  // of a regular 12-gon
        openings.push_back(std::move(loop));
      }
    INFO("round " << round);
    CHECK(filled_area(plate, openings) == test::nearly(area));
  }
}

TEST_CASE("openings whose corners lie in one level line") {
  const std::vector<Vec2> plate{{0, 0}, {60, 0}, {60, 20}, {0, 20}};
  const auto box = [](double x, double top) {
    return std::vector<Vec2>{{x, top - 6}, {x + 5, top - 6}, {x + 5, top}, {x, top}};
  };
  const auto diamond = [](double x, double y) {
    return std::vector<Vec2>{{x - 2, y}, {x, y - 2}, {x + 2, y}, {x, y + 2}};
  };
  const std::vector<std::vector<Vec2>> openings{diamond(4, 12), box(10, 12),     box(20, 12), diamond(30, 12),
                                                box(36, 12),    diamond(46, 12), box(50, 18)};
  CHECK(filled_area(plate, openings) == Approx(60 * 20 - 4 * 30 - 3 * 8).epsilon(1e-12));
}
