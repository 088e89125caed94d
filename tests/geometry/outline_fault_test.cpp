// What keeps a chain from being an outline.
#include <catch2/catch.hpp>
#include <limits>

#include "geometry/shapes.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

std::size_t faulty_node(const std::vector<Node>& chain) {
  const auto fault = find_fault(chain);
  REQUIRE(fault);
  CHECK_FALSE(fault->what.empty());
  CHECK_THROWS_AS(Outline(chain), OutlineError);
  return fault->node;
}

// Crossings by brute force on a fine polyline.
bool polyline_crosses(const std::vector<Vec2>& p) {
  const std::size_t n = p.size();
  const auto side = [](Vec2 a, Vec2 b, Vec2 c) { return cross(b - a, c - a); };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      const Vec2 a = p[i];
      const Vec2 b = p[i + 1];
      const Vec2 c = p[j];
      const Vec2 d = p[(j + 1) % n];
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return true;
    }
  }
  return false;
}

}  // namespace

TEST_CASE("a chain that is no outline is refused with the node at fault") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double inf = std::numeric_limits<double>::infinity();
  CHECK(faulty_node({}) == 0);
  CHECK(faulty_node({{{0, 0}, 1}}) == 0);
  CHECK(faulty_node({{{0, 0}, 0}, {{1, 0}, 0}}) == 0);
  CHECK(faulty_node({{{0, 0}, 0}, {{nan, 0}, 0}, {{1, 1}, 0}}) == 1);
  CHECK(faulty_node({{{0, 0}, 0}, {{1, 0}, 0}, {{1, inf}, 0}}) == 2);
  CHECK(faulty_node({{{0, 0}, 0}, {{1, 0}, nan}, {{1, 1}, 0}}) == 1);
  CHECK(faulty_node({{{0, 0}, 0}, {{1, 0}, 16.5}, {{1, 1}, 0}}) == 1);
  CHECK(faulty_node({{{0, 0}, 0}, {{1, 0}, 0}, {{1, 0}, 0}, {{0, 1}, 0}}) == 1);
  CHECK(faulty_node({{{0, 0}, 0}, {{1, 0}, 0}, {{1, 1}, 0}, {{0, 5e-8}, 0}}) == 3);
}

TEST_CASE("edges that cross, touch or run along each other are found") {
  SECTION("a bow tie") {
    CHECK(faulty_node({{{0, 0}, 0}, {{10, 10}, 0}, {{10, 0}, 0}, {{0, 10}, 0}}) == 0);
  }
  SECTION("a corner touching a far side") {
    CHECK(faulty_node({{{0, 0}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{5, 0}, 0}, {{0, 10}, 0}}) == 0);
  }
  SECTION("two corners in one place") {
    CHECK(faulty_node({{{0, 0}, 0}, {{5, 5}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{5, 5}, 0}, {{0, 10}, 0}}) <
          2);
  }
  SECTION("an edge that goes back over the one before") {
    CHECK(faulty_node({{{0, 0}, 0}, {{10, 0}, 0}, {{4, 0}, 0}, {{4, 8}, 0}}) < 2);
  }
  SECTION("a slit of no width") {
    CHECK(find_fault(
        {{{0, 0}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{5, 10}, 0}, {{5, 3}, 0}, {{5, 10}, 0}, {{0, 10}, 0}}));
  }
  SECTION("an arc that crosses its neighbour a second time") {
    CHECK(faulty_node({{{0, 0}, 0}, {{10, 0}, -2}, {{10, 4}, 0}, {{0, 4}, 0}}) <= 1);
  }
  SECTION("an arc that touches the opposite side") {
    // A half circle of radius 4 from the bottom reaches exactly up to y = 4.
    CHECK(find_fault({{{0, 0}, 0}, {{2, 0}, -1}, {{10, 0}, 0}, {{12, 0}, 0}, {{12, 4}, 0}, {{0, 4}, 0}}));
    CHECK_FALSE(find_fault(
        {{{0, 0}, 0}, {{2, 0}, -1}, {{10, 0}, 0}, {{12, 0}, 0}, {{12, 4.00001}, 0}, {{0, 4.00001}, 0}}));
  }
  SECTION("an arc there and back encloses nothing") {
    CHECK(find_fault({{{0, 0}, 0.5}, {{10, 0}, -0.5}}));
  }
}

TEST_CASE("valid chains of every kind pass") {
  CHECK_FALSE(find_fault({{{0, 0}, 1}, {{10, 0}, 1}}));
  CHECK_FALSE(find_fault({{{0, 0}, 0}, {{10, 0}, 16}}));
  CHECK_FALSE(find_fault({{{0, 0}, 0.5}, {{10, 0}, -0.4}}));                        // a crescent
  CHECK_FALSE(find_fault({{{0, 0}, 0}, {{5, 0}, 0}, {{10, 0}, 0}, {{10, 5}, 0}}));  // a node amid a line
  CHECK_FALSE(find_fault({{{-5, 0}, 0.1}, {{0, 0}, 0.1}, {{5, 0}, 0}, {{5, 5}, 0}, {{-5, 5}, 0}}));
  CHECK_FALSE(find_fault(stadium(30, 6).nodes()));
}

TEST_CASE("faults of random chains agree with brute force on a fine polyline") {
  Random random(51);
  int crossing = 0;
  int simple = 0;
  for (int i = 0; i < 1500; ++i) {
    std::vector<Node> chain = random_star(random);
    const double shake = random.between(0, 15);
    for (Node& node : chain) node.at += Vec2{random.between(-shake, shake), random.between(-shake, shake)};
    const bool found = find_fault(chain).has_value();
    (found ? crossing : simple)++;
    INFO("chain " << i);
    const Outline outline = Outline::trusted(chain);
    // A coarse polyline may miss or invent a crossing of edges that all but touch; a fine one settles it.
    if (polyline_crosses(polyline(outline, 2e-3)) == found) continue;
    CHECK(polyline_crosses(polyline(outline, 2e-6)) == found);
  }
  CHECK(crossing > 300);
  CHECK(simple > 300);
}

TEST_CASE("one crossing among 2,000 nodes is found") {
  std::vector<Node> chain;
  for (int i = 0; i < 2000; ++i) {
    const double a = 2 * std::numbers::pi * i / 2000;
    chain.push_back({{60 * std::cos(a), 15 * std::sin(a)}, i % 3 == 0 ? 1e-3 : 0});
  }
  CHECK_FALSE(find_fault(chain));
  std::swap(chain[777].at, chain[778].at);
  const auto fault = find_fault(chain);
  REQUIRE(fault);
  CHECK(fault->node >= 775);
  CHECK(fault->node <= 779);
}
