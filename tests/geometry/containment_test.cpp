// One outline inside another, and the distance between two boundaries.
#include <catch2/catch.hpp>

#include "geometry/shapes.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// Least distance between fine samples of two boundaries: never under the true one.
double sampled_distance(const Outline& a, const Outline& b) {
  double least = 1e9;
  for (const Edge& edge : a.edges()) {
    for (int i = 0; i <= 200; ++i) least = std::min(least, b.nearest(edge.point(i / 200.0)).distance_mm);
  }
  return least;
}

Outline moved(const Outline& outline, Vec2 by) {
  std::vector<Node> chain = outline.nodes();
  for (Node& node : chain) node.at += by;
  return Outline(chain);
}

}  // namespace

TEST_CASE("containment of plain shapes") {
  CHECK(contains(rectangle({0, 0}, {10, 10}), rectangle({2, 2}, {8, 8})));
  CHECK_FALSE(contains(rectangle({2, 2}, {8, 8}), rectangle({0, 0}, {10, 10})));
  CHECK_FALSE(contains(rectangle({0, 0}, {10, 10}), rectangle({5, 5}, {15, 8})));
  CHECK_FALSE(contains(rectangle({0, 0}, {10, 10}), rectangle({20, 0}, {30, 10})));
  // Nodes all inside, an arc bulging out.
  CHECK_FALSE(contains(rectangle({0, 0}, {10, 10}), Outline({{{2, 1}, 1}, {{8, 1}, 0}, {{5, 8}, 0}})));
  // Nodes and middles of all edges inside, a thin spike of the outer one reaching in across an edge.
  const Outline notched(
      {{{0, 0}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{3.1, 10}, 0}, {{3, 4}, 0}, {{2.9, 10}, 0}, {{0, 10}, 0}});
  CHECK_FALSE(contains(notched, rectangle({1, 1}, {9, 5})));
  CHECK(contains(notched, rectangle({1, 1}, {9, 3.9})));
}

TEST_CASE("touching from inside counts as inside") {
  const Outline box = rectangle({0, 0}, {10, 10});
  CHECK(contains(box, box));
  CHECK(contains(box, circle({5, 5}, 5)));
  CHECK_FALSE(contains(box, circle({5, 5}, 5.0001)));
  CHECK(contains(box, rectangle({0, 2}, {10, 4})));
  CHECK(contains(circle({0, 0}, 5), rectangle({-3, -4}, {3, 4})));
  CHECK(contains(circle({0, 0}, 5), circle({2, 0}, 3)));
  CHECK(boundary_distance_mm(box, rectangle({0, 2}, {10, 4})) == 0);
}

TEST_CASE("distances between boundaries of plain shapes") {
  CHECK(boundary_distance_mm(circle({0, 0}, 3), circle({10, 0}, 2)) == test::nearly(5));
  CHECK(boundary_distance_mm(circle({0, 0}, 8), circle({1, 2}, 3)) == test::nearly(5 - std::sqrt(5.0)));
  CHECK(boundary_distance_mm(circle({0, 0}, 3), circle({3, 1}, 3)) == 0);
  CHECK(boundary_distance_mm(rectangle({0, 0}, {4, 4}), rectangle({7, 8}, {9, 9})) == test::nearly(5));
  CHECK(boundary_distance_mm(rectangle({0, 0}, {4, 4}), circle({2, 9}, 2)) == test::nearly(3));
  CHECK(boundary_distance_mm(stadium(20, 5), circle({10, 0}, 2)) == test::nearly(3));
}

TEST_CASE("a shape grown or shrunk holds and is held, at the distance of the offset") {
  Random random(81);
  for (int i = 0; i < 500; ++i) {
    const Outline outline = random_outline(random);
    const double by = random.between(0.01, 6);
    INFO("outline " << i);
    const Outline grown = offset(outline, by).front().outer;
    CHECK(contains(grown, outline));
    CHECK_FALSE(contains(outline, grown));
    CHECK(std::abs(boundary_distance_mm(grown, outline) - by) < 1e-7);
    for (const Region& part : offset(outline, -by)) {
      CHECK(contains(outline, part.outer));
      CHECK(std::abs(boundary_distance_mm(part.outer, outline) - by) < 1e-7);
    }
  }
}

TEST_CASE("distance and containment of random pairs agree with samples") {
  Random random(82);
  int apart = 0;
  int inside = 0;
  int crossing = 0;
  for (int i = 0; i < 1500; ++i) {
    const Outline a = random_outline(random);
    const Outline b = moved(random_outline(random), {random.between(-60, 60), random.between(-20, 20)});
    const double distance = boundary_distance_mm(a, b);
    const double sampled = std::min(sampled_distance(a, b), sampled_distance(b, a));
    INFO("pair " << i);
    CHECK(boundary_distance_mm(b, a) == Approx(distance).margin(1e-9));
    CHECK(distance <= sampled + 1e-9);
    double least_depth = 1e9;
    for (const Vec2 p : polyline(b, 1e-4)) least_depth = std::min(least_depth, a.depth_mm(p));
    if (distance > 0) {
      CHECK(sampled - distance < 0.3);  // half the spacing of the samples at most, and squared over the gap
      CHECK(contains(a, b) == (least_depth > 0));
      (contains(a, b) ? inside : apart)++;
    } else {
      ++crossing;
      CHECK_FALSE(contains(a, b));
      CHECK(sampled < 0.6);
    }
  }
  CHECK(apart > 200);
  CHECK(inside > 5);
  CHECK(crossing > 200);
}
