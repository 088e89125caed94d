// Half-plane clipping, crossings and polylines.
#include <catch2/catch.hpp>

#include "geometry/shapes.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using std::numbers::pi;

namespace {

double total_area_mm2(const std::vector<Outline>& outlines) {
  double sum = 0;
  for (const Outline& outline : outlines) sum += outline.area_mm2();
  return sum;
}

bool any_contains(const std::vector<Outline>& outlines, Vec2 p) {
  return std::ranges::any_of(outlines, [p](const Outline& outline) { return outline.contains(p); });
}

/// A line through the neighbourhood of an outline; often through a node, or touching an arc.
HalfPlane random_half_plane(Random& random, const Outline& outline) {
  const Vec2 size = outline.bounds().size();
  Vec2 p = outline.bounds().low + Vec2{random.between(0, 1) * size.x, random.between(0, 1) * size.y};
  const double angle = random.between(0, 2 * pi);
  Vec2 normal{std::cos(angle), std::sin(angle)};
  const Edge& edge = outline.edges()[random.index(outline.edges().size())];
  const Edge& other = outline.edges()[random.index(outline.edges().size())];
  switch (random.index(5)) {
    case 0:
      p = edge.from;
      break;
    case 1:
      if (edge.is_arc()) p = edge.centre + normal * edge.radius;
      break;  // tangent
    case 2:
      p = edge.from;
      normal = turned_left(edge.direction(0));
      break;  // along an edge
    case 3:
      p = edge.from;  // through two nodes
      if (edge.from != other.from) normal = turned_left(other.from - edge.from);
      break;
    default:
      break;
  }
  normal *= random.between(0.1, 10);
  return {normal, glm::dot(normal, p)};
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
}

TEST_CASE("a line that touches an outline cuts nothing off") {
  CHECK(clip(circle({0, 0}, 7), {{1, 0}, -7}).empty());
  REQUIRE(clip(circle({0, 0}, 7), {{1, 0}, 7}).size() == 1);
  CHECK(clip(circle({0, 0}, 7), {{1, 0}, 7}).front() == circle({0, 0}, 7));
  const Outline box = rectangle({0, 0}, {10, 10});
  CHECK(clip(box, {{-1, 0}, 0}).front() == box);  // along a side
  CHECK(clip(box, {{1, 0}, 0}).empty());
  CHECK(clip(box, {{-1, -1}, 0}).front() == box);  // at a corner
  CHECK(clip(box, {{1, 1}, 0}).empty());
}

TEST_CASE("a cut through corners keeps them as they are") {
  const auto parts = clip(rectangle({0, 0}, {10, 10}), {{1, -1}, 0});
  REQUIRE(parts.size() == 1);
  CHECK(parts[0].nodes().size() == 3);
  CHECK(parts[0].area_mm2() == 50);
}

TEST_CASE("a cut across a comb leaves its teeth apart") {
  const Outline comb({{{0, 0}, 0},
                      {{50, 0}, 0},
                      {{50, 10}, 0},
                      {{40, 10}, 0},
                      {{40, 4}, 0},
                      {{30, 4}, 0},
                      {{30, 10}, 0},
                      {{20, 10}, 0},
                      {{20, 4}, 0},
                      {{10, 4}, 0},
                      {{10, 10}, 0},
                      {{0, 10}, 0}});
  CHECK(clip(comb, {{0, -1}, -6}).size() == 3);
  CHECK(total_area_mm2(clip(comb, {{0, -1}, -6})) == test::nearly(3 * 10 * 4));
  CHECK(clip(comb, {{0, -1}, -4}).size() == 3);  // along the bottoms of the gaps
  CHECK(total_area_mm2(clip(comb, {{0, -1}, -4})) == test::nearly(3 * 10 * 6));
  CHECK(clip(comb, {{0, 1}, 4}).size() == 1);
  CHECK(total_area_mm2(clip(comb, {{0, 1}, 4})) == test::nearly(50 * 4));
  CHECK(clip(clip(comb, {{0, -1}, -4}), {{1, 0}, 25}).size() == 2);
}

TEST_CASE("a cutting line needs a direction") {
  CHECK_THROWS_AS(clip(circle({0, 0}, 1), {{0, 0}, 1}), std::invalid_argument);
  CHECK_THROWS_AS(crossings(circle({0, 0}, 1), {0, 0}, {0, 0}), std::invalid_argument);
}

TEST_CASE("what a line keeps and what it cuts off make the whole, and lie on their sides") {
  Random random(61);
  int parted = 0;
  for (int i = 0; i < 4000; ++i) {
    const Outline outline = random_outline(random);
    const HalfPlane keep = random_half_plane(random, outline);
    const auto kept = clip(outline, keep);
    const auto off = clip(outline, {-keep.normal, -keep.limit});
    INFO("outline " << i);
    CHECK(std::abs(total_area_mm2(kept) + total_area_mm2(off) - outline.area_mm2()) <
          1e-9 * (1 + outline.area_mm2()));
    parted += kept.size() + off.size() > 2 ? 1 : 0;
    const double length = glm::length(keep.normal);
    for (const Outline& part : kept) {
      for (const Edge& edge : part.edges()) {
        // No part of the result leaves the half-plane or the outline, and arcs stay arcs of the same circles.
        const Vec2 p = edge.point(0.37);
        CHECK(glm::dot(keep.normal, p) - keep.limit < 2e-9 * length);
        CHECK(outline.depth_mm(p) > -2e-9);
        const bool along_cut = std::abs(glm::dot(keep.normal, p) - keep.limit) < 2e-9 * length;
        if (!along_cut) CHECK(std::abs(outline.depth_mm(p)) < 2e-9);
      }
    }
    for (int k = 0; k < 10; ++k) {
      const Vec2 size = outline.bounds().size();
      const Vec2 p =
          outline.bounds().low + Vec2{random.between(0, 1) * size.x, random.between(0, 1) * size.y};
      if (std::abs(glm::dot(keep.normal, p) - keep.limit) < 1e-8 * length) continue;
      if (outline.nearest(p).distance_mm < 1e-8) continue;
      CHECK(any_contains(kept, p) == (outline.contains(p) && glm::dot(keep.normal, p) < keep.limit));
    }
    const auto again = clip(kept, keep);
    CHECK(again == kept);
  }
  CHECK(parted > 400);
}

TEST_CASE("a line through two corners of a square crosses there, past one corner it does not") {
  const Outline square = rectangle({0, 0}, {10, 10});
  const auto through = crossings(square, {-3, -3}, {1, 1});
  REQUIRE(through.size() == 2);
  CHECK(through[0].along_mm == test::nearly(3 * std::sqrt(2.0)));
  CHECK(through[1].along_mm == test::nearly(13 * std::sqrt(2.0)));
  CHECK(crossings(square, {-1, 1}, {1, -1}).empty());
  CHECK(crossings(square, {-1, 0}, {1, 0}).empty());
}

TEST_CASE("between an odd crossing and the next a line runs inside, elsewhere outside") {
  Random random(62);
  std::size_t most = 0;
  for (int i = 0; i < 3000; ++i) {
    const Outline outline = random_outline(random);
    const HalfPlane plane = random_half_plane(random, outline);
    const Vec2 origin = plane.normal * (plane.limit / glm::dot(plane.normal, plane.normal));
    const Vec2 direction = turned_left(plane.normal);
    const auto found = crossings(outline, origin, direction);
    INFO("outline " << i);
    REQUIRE(found.size() % 2 == 0);
    most = std::max(most, found.size());
    const Vec2 unit = direction / glm::length(direction);
    for (std::size_t k = 0; k < found.size(); ++k) {
      CHECK(glm::length(origin + unit * found[k].along_mm - found[k].point) < 2e-9);
      CHECK(outline.nearest(found[k].point).distance_mm < 1e-11);
      CHECK(glm::length(found[k].point - outline.edges()[found[k].edge].point(0)) <=
            outline.edges()[found[k].edge].length() + 1e-9);
      if (k == 0) continue;
      const Vec2 between = origin + unit * ((found[k - 1].along_mm + found[k].along_mm) / 2);
      // Where the line runs along the boundary, or a corner touches it, it is on neither side.
      if (outline.nearest(between).distance_mm > 1e-8) CHECK(outline.contains(between) == (k % 2 == 1));
    }
  }
  CHECK(most >= 6);
}

TEST_CASE("no chord of a polyline leaves its arc by more than the tolerance") {
  Random random(63);
  for (int i = 0; i < 200; ++i) {
    const Outline outline = random_outline(random);
    const double tolerance = std::pow(10, random.between(-4, 0));
    const auto points = polyline(outline, tolerance);
    REQUIRE(points.size() >= outline.nodes().size());
    CHECK(points.front() == outline.nodes().front().at);
    CHECK(points.front() != points.back());
    for (std::size_t k = 0; k < points.size(); ++k) {
      const Vec2 middle = (points[k] + points[(k + 1) % points.size()]) / 2.0;
      CHECK(outline.nearest(points[k]).distance_mm < 1e-11);
      CHECK(outline.nearest(middle).distance_mm <= tolerance * (1 + 1e-9));
    }
  }
  CHECK(polyline(circle({0, 0}, 10), 100).size() == 4);
  CHECK_THROWS_AS(polyline(circle({0, 0}, 10), 0), std::invalid_argument);
}
