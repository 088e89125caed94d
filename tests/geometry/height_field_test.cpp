// The finished surface against closed forms, and what its header promises.
#include "haftwright/geometry/height_field.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <thread>
#include <vector>

#include "geometry/shapes.hpp"
#include "support/random.hpp"

using namespace haftwright;
using namespace haftwright::test;
using std::numbers::pi;

namespace {

/// Simpson's rule.
template <class F>
double integral(F&& f, double from, double to, int halves = 400) {
  double sum = f(from) + f(to);
  for (int i = 1; i < 2 * halves; ++i) sum += (i % 2 == 1 ? 4 : 2) * f(from + (to - from) * i / (2 * halves));
  return sum * (to - from) / (6 * halves);
}

/// Area between the crown and the surface over the straight way of length `far` in from the wall at `wall`.
double missing_area(const HeightField& field, Vec2 wall, Vec2 inward, double far) {
  // The surface starts upright: depth = far (1 - cos a) makes the integrand smooth there.
  return integral(
      [&](double a) {
        const Vec2 p = wall + inward * (far * (1 - std::cos(a)));
        return (field.crown_mm(p) - field.height_mm(p)) * far * std::sin(a);
      },
      0, pi / 2, 4000);
}

/// Cut off by a circle of radius r in a corner of the interior angle `angle`.
double corner_area(double r, double angle) {
  return r * r * (1 / std::tan(angle / 2) - (pi - angle) / 2);
}

SurfaceShape swelling() {
  return {{{-30, 8}, {40, 11}, {150, 9}}, 30.0, 0.7, 3, -0.02};
}

}  // namespace

TEST_CASE("a round-over on a flat side cuts a quarter circle from the section") {
  for (const double r : {0.5, 2.0, 3.0, 6.0}) {
    const HeightField field(rectangle({0, -15}, {100, 15}), {{{0, 9}}, {}, 0, r, 0});
    // Published in any handbook as the area of a fillet in a right angle: 0.215 r^2.
    CHECK(missing_area(field, {50, 15}, {0, -1}, 2 * r) == Approx((1 - pi / 4) * r * r).epsilon(1e-6));
    CHECK(missing_area(field, {0, 3}, {1, 0}, 2 * r) == Approx((1 - pi / 4) * r * r).epsilon(1e-6));
    for (const double share : {0.0, 0.01, 0.3, 0.7, 1.0, 1.5}) {
      const double depth = share * r;
      const double drop = depth < r ? r - std::sqrt(r * r - (r - depth) * (r - depth)) : 0;
      CHECK(field.height_mm({50, 15 - depth}) == Approx(9 - drop).epsilon(1e-12));
    }
  }
}

TEST_CASE("on a tapered tang the round-over is that of the true solid") {
  const double r = 3;
  for (const double k : {-0.08, 0.03, 0.25}) {
    const HeightField field(rectangle({0, -15}, {100, 15}), {{{0, 9}}, {}, 0, r, k});
    const double lean = std::atan(k);
    // Across the butt: a circle in the corner between an upright wall and a surface that leans.
    CHECK(missing_area(field, {100, 0}, {-1, 0}, 2 * r) ==
          Approx(corner_area(r, pi / 2 - lean)).epsilon(1e-6));
    CHECK(missing_area(field, {0, 0}, {1, 0}, 2 * r) == Approx(corner_area(r, pi / 2 + lean)).epsilon(1e-6));
    // Along the spine: a cylinder that lies in the leaning surface, cut upright.
    CHECK(missing_area(field, {50, 15}, {0, -1}, 2 * r) ==
          Approx((1 - pi / 4) * r * r * std::sqrt(1 + k * k)).epsilon(1e-6));
    const Nearest butt = field.edge().nearest({99, 0});
    const Nearest spine = field.edge().nearest({50, 14});
    CHECK(field.round_over_reach_mm(butt) == Approx(r * (1 + std::sin(lean))).epsilon(1e-9));
    CHECK(field.round_over_reach_mm(spine) == Approx(r).epsilon(1e-9));
    CHECK(field.wall_height_mm(spine) == Approx(9 - r * std::sqrt(1 + k * k)).epsilon(1e-12));
    CHECK(field.wall_height_mm(butt) == Approx(9 - r * (k + std::sqrt(1 + k * k))).epsilon(1e-12));
  }
}

TEST_CASE("under a crown the round-over is a circle that touches the crown's circle from inside") {
  const double w = 14;
  const double radius = 22;
  const double r = 4;
  const HeightField field(rectangle({0, -w}, {100, w}), {{{0, 12}}, radius, 0, r, 0});
  const double centre_y = w - r;
  const double centre_z = 12 - radius + std::sqrt((radius - r) * (radius - r) - centre_y * centre_y);
  const double contact_y = centre_y * radius / (radius - r);
  const Nearest at = field.edge().nearest({50, w - 1});
  CHECK(field.wall_height_mm(at) == Approx(centre_z).epsilon(1e-12));
  CHECK(field.round_over_reach_mm(at) == Approx(w - contact_y).epsilon(1e-9));
  for (double y = contact_y; y <= w; y += 0.05)
    CHECK(field.height_mm({50, y}) ==
          Approx(centre_z + std::sqrt(r * r - (y - centre_y) * (y - centre_y))).epsilon(1e-12));
  for (double y = -contact_y; y <= contact_y; y += 0.31)
    CHECK(field.height_mm({50, y}) ==
          Approx(12 - radius + std::sqrt(radius * radius - y * y)).epsilon(1e-13));
}

TEST_CASE("the volume under a crown is that of a cylinder's segment") {
  const double w = 13;
  const double radius = 20;
  const double crest = 2;
  const HeightField field(rectangle({0, -w}, {100, w}), {{{0, 12}}, radius, crest, 0, 0});
  const auto under_circle = [&](double v) {
    return (v * std::sqrt(radius * radius - v * v) + radius * radius * std::asin(v / radius)) / 2;
  };
  const double area = 2 * w * (12 - radius) + under_circle(w - crest) - under_circle(-w - crest);
  CHECK(integral([&](double y) { return field.height_mm({37, y}); }, -w, w) == Approx(area).epsilon(1e-9));
}

TEST_CASE("the round-over of a disc is a torus even where its arcs are tighter than the ball") {
  for (const double r : {1.0, 4.0, 7.0, 9.0}) {
    const HeightField field(circle({10, -3}, 8), {{{0, 12}}, {}, 0, r, 0});
    Random random(31);
    for (int i = 0; i < 200; ++i) {
      const double a = random.between(0, 2 * pi);
      const double depth = random.between(0, 7.9);
      const double short_of = std::max(r - depth, 0.0);
      const double height = 12 - r + std::sqrt(r * r - short_of * short_of);
      CHECK(field.height_mm(Vec2{10, -3} + (8 - depth) * Vec2{std::cos(a), std::sin(a)}) ==
            Approx(height).epsilon(1e-11));
    }
  }
}

TEST_CASE("mirrored handles have mirrored surfaces") {
  Random random(32);
  const std::vector<Node> chain{{{0, -11}, 0},   {{60, -13}, -0.12}, {{90, -10}, 0.25}, {{112, 8}, 0.3},
                                {{95, 13}, 0.1}, {{70, 12}, 0},      {{0, 11}, 0}};
  std::vector<Node> upside_down;
  std::vector<Node> back_to_front;
  for (const Node& node : chain) {
    upside_down.push_back({{node.at.x, -node.at.y}, -node.bulge});
    back_to_front.push_back({{-node.at.x, node.at.y}, -node.bulge});
  }
  const SurfaceShape shape = swelling();
  SurfaceShape upside_down_shape = shape;
  upside_down_shape.crest_y_mm = -shape.crest_y_mm;
  SurfaceShape back_to_front_shape = shape;
  back_to_front_shape.base_slope = -shape.base_slope;
  back_to_front_shape.thickness_mm = {{-150, 9}, {-40, 11}, {30, 8}};
  const HeightField field(Outline(chain), shape);
  const HeightField mirrored_y(Outline(upside_down), upside_down_shape);
  const HeightField mirrored_x(Outline(back_to_front), back_to_front_shape);
  for (int i = 0; i < 3000; ++i) {
    const Vec2 p{random.between(-2, 115), random.between(-15, 15)};
    const double height = field.height_mm(p);
    CHECK(mirrored_y.height_mm({p.x, -p.y}) == Approx(height).epsilon(0).margin(1e-8));
    CHECK(mirrored_x.height_mm({-p.x, p.y}) == Approx(height).epsilon(0).margin(1e-8));
  }
}

TEST_CASE("on any outline the surface is the crown past the round-over and nothing outside") {
  Random random(33);
  for (int round = 0; round < 60; ++round) {
    std::vector<Node> chain = random_star(random);
    if (find_fault(chain)) continue;
    const Outline outline(chain);
    SurfaceShape shape{{{-20, 9}, {5, 12}, {30, 10}}, 200.0, 0, random.between(0.2, 3), 0.02};
    const HeightField field(outline, shape);
    const Bounds& box = outline.bounds();
    for (int i = 0; i < 400; ++i) {
      const Vec2 p{random.between(box.low.x - 1, box.high.x + 1),
                   random.between(box.low.y - 1, box.high.y + 1)};
      const double depth = outline.depth_mm(p);
      const HeightField::Sample sample = field.sample(p);
      CAPTURE(round, p.x, p.y, depth);
      if (depth < 0) {
        REQUIRE(sample.height_mm == 0);
        REQUIRE(sample.edge_distance_mm == 0);
        continue;
      }
      REQUIRE(sample.height_mm == field.height_mm(p));
      REQUIRE(std::isfinite(sample.height_mm));
      REQUIRE(std::isfinite(glm::length(sample.gradient)));
      REQUIRE(sample.height_mm <= field.crown_mm(p) + 1e-12);
      if (depth > 2 * shape.round_over_mm) {
        REQUIRE(sample.height_mm == field.crown_mm(p));
        REQUIRE(sample.gradient == field.crown_gradient(p));
      }
      if (depth < shape.round_over_mm)
        REQUIRE(sample.edge_distance_mm == Approx(depth).epsilon(0).margin(1e-9));
      if (depth >= shape.round_over_mm) REQUIRE(sample.edge_distance_mm >= shape.round_over_mm - 1e-9);
    }
  }
}

TEST_CASE("a sharp edge has walls as high as the crown") {
  SurfaceShape shape = swelling();
  shape.round_over_mm = 0;
  const HeightField field(stadium(90, 12), shape);
  for (const Edge& edge : field.edge().edges())
    for (double t = 0.05; t < 1; t += 0.1) {
      const Nearest at = field.edge().nearest(edge.point(t) + 0.5 * turned_left(edge.direction(t)));
      CHECK(field.wall_height_mm(at) == Approx(field.crown_mm(at.point)).epsilon(1e-13));
      CHECK(field.round_over_reach_mm(at) == 0);
      CHECK(field.height_mm(at.point + 1e-6 * turned_left(edge.direction(t))) ==
            Approx(field.crown_mm(at.point)).epsilon(0).margin(1e-5));
    }
}

TEST_CASE("the wall is where the surface starts and the reach where it becomes the crown") {
  const HeightField field(stadium(90, 12), swelling());
  const double r = field.shape().round_over_mm;
  for (const Edge& edge : field.edge().edges())
    for (double t = 0.05; t < 1; t += 0.1) {
      const Vec2 inward = turned_left(edge.direction(t));
      const Nearest at = field.edge().nearest(edge.point(t));
      CAPTURE(at.point.x, at.point.y);
      // Upright at the wall: sqrt(2 r depth) above it.
      const double rise = field.height_mm(edge.point(t) + 1e-6 * inward) - field.wall_height_mm(at);
      CHECK(rise == Approx(std::sqrt(2 * r * 1e-6)).epsilon(0.1));
      const double reach = field.round_over_reach_mm(at);
      const auto below_crown = [&](double depth) {
        const Vec2 p = edge.point(t) + depth * inward;
        return field.crown_mm(p) - field.height_mm(p);
      };
      CHECK(below_crown(reach + 0.001) == 0);
      CHECK(below_crown(reach - 0.05) > 1e-5);
      CHECK(below_crown(reach - 0.001) < 1e-6);
    }
}

TEST_CASE("many threads may ask one field") {
  const HeightField field(stadium(90, 12), swelling());
  const auto sum = [&field](std::uint64_t seed) {
    Random random(seed);
    double total = 0;
    for (int i = 0; i < 20000; ++i)
      total += field.height_mm({random.between(-12, 102), random.between(-12, 12)});
    return total;
  };
  std::vector<double> together(4);
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < together.size(); ++i)
    threads.emplace_back([&, i] { together[i] = sum(40 + i); });
  for (std::thread& thread : threads) thread.join();
  for (std::size_t i = 0; i < together.size(); ++i) CHECK(together[i] == sum(40 + i));
}

TEST_CASE("a height field refuses a surface that cannot be") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const Outline edge = rectangle({0, -10}, {100, 12});
  const auto make = [&](const SurfaceShape& shape) { return HeightField(edge, shape); };
  CHECK_NOTHROW(make({{{0, 9}}, 12.0, 0, 2, 0}));
  CHECK_THROWS_AS(make({{{0, 9}}, 11.9, 0, 2, 0}), std::invalid_argument);   // folds at the spine
  CHECK_THROWS_AS(make({{{0, 9}}, 12.9, 3, 2, 0}), std::invalid_argument);   // folds at the belly
  CHECK_THROWS_AS(make({{{0, 9}}, 12.0, 0, 12, 0}), std::invalid_argument);  // no ball fits under it
  CHECK_THROWS_AS(make({{{0, 9}}, nan, 0, 2, 0}), std::invalid_argument);
  CHECK_THROWS_AS(make({{{0, 9}}, -40.0, 0, 2, 0}), std::invalid_argument);
  CHECK_THROWS_AS(make({{{0, 9}}, {}, nan, 2, 0}), std::invalid_argument);
  CHECK_THROWS_AS(make({{{0, 9}}, {}, 0, nan, 0}), std::invalid_argument);
  CHECK_THROWS_AS(make({{{0, 9}}, {}, 0, -1, 0}), std::invalid_argument);
  CHECK_THROWS_AS(make({{{0, 9}}, {}, 0, 2, nan}), std::invalid_argument);
  CHECK_THROWS_AS(make({{{0, nan}}, {}, 0, 2, 0}), std::invalid_argument);
  CHECK_THROWS_AS(make({{}, {}, 0, 2, 0}), std::invalid_argument);
}
