// Offsets against closed forms, the distance they promise, and a polygon library.
#include <catch2/catch.hpp>
#include <limits>
#include <polyclipping/clipper.hpp>

#include "geometry/shapes.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using std::numbers::pi;

namespace {

double total_area_mm2(const std::vector<Region>& regions) {
  double sum = 0;
  for (const Region& region : regions) sum += region.area_mm2();
  return sum;
}

bool any_contains(const std::vector<Region>& regions, Vec2 p) {
  return std::ranges::any_of(regions, [p](const Region& region) {
    return region.outer.contains(p) &&
           std::ranges::none_of(region.holes, [p](const Outline& hole) { return hole.contains(p); });
  });
}

template <class Visit>
void for_each_loop(const std::vector<Region>& regions, Visit visit) {
  for (const Region& region : regions) {
    visit(region.outer);
    for (const Outline& hole : region.holes) visit(hole);
  }
}

double random_distance_mm(Random& random, const Outline& outline) {
  switch (random.index(4)) {
    case 0:
      return random.between(-15, 20);
    case 1:
      return random.between(-4, 4);
    case 2:
      return std::round(2 * random.between(-5, 8)) / 2;  // meets the whole numbers of random_steps
    default:
      return -random.between(0.3, 1.05) * outline.depth_mm(outline.moments().centroid);
  }
}

// The polygon library works in whole numbers: of nanometres.
constexpr double kPerMm = 1e6;
constexpr double kChord_mm = 1e-4;

double library_area_mm2(const Outline& outline, double by) {
  ClipperLib::Path path;
  for (const Vec2 p : polyline(outline, kChord_mm)) {
    path.emplace_back(std::llround(p.x * kPerMm), std::llround(p.y * kPerMm));
  }
  ClipperLib::ClipperOffset library(2, kChord_mm * kPerMm);
  library.AddPath(path, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  ClipperLib::Paths result;
  library.Execute(result, by * kPerMm);
  double area = 0;
  for (const ClipperLib::Path& loop : result) area += ClipperLib::Area(loop) / kPerMm / kPerMm;
  return area;
}

/// A convex shape: corners on a circle, some with fillets.
Outline random_convex(Random& random) {
  const std::size_t n = random.count(3, 9);
  std::vector<Corner> corners;
  for (std::size_t i = 0; i < n; ++i) {
    const double angle = 2 * pi * (static_cast<double>(i) + random.between(0, 0.8)) / static_cast<double>(n);
    corners.push_back(
        {{40 * std::cos(angle), 15 * std::sin(angle)}, random.chance(0.5) ? 0 : random.between(0.1, 8)});
  }
  return Outline(filleted(corners));
}

}  // namespace

TEST_CASE("offsets of plain shapes have the areas of their closed forms") {
  const Outline box = rectangle({0, 0}, {40, 20});
  CHECK(total_area_mm2(offset(box, 3)) == Approx(800 + 120 * 3 + pi * 9).epsilon(1e-12));
  CHECK(offset(box, 3).front().outer.nodes().size() == 8);
  CHECK(total_area_mm2(offset(box, -3)) == Approx(34 * 14).epsilon(1e-12));
  CHECK(offset(box, -3).front().outer.nodes().size() == 4);
  CHECK(total_area_mm2(offset(circle({3, 4}, 10), 2)) == Approx(144 * pi).epsilon(1e-12));
  CHECK(total_area_mm2(offset(circle({3, 4}, 10), -2)) == Approx(64 * pi).epsilon(1e-12));
  CHECK(total_area_mm2(offset(stadium(30, 8), -5)) == Approx(30 * 6 + 9 * pi).epsilon(1e-12));
  CHECK(offset(stadium(30, 8), -5).front().outer.nodes().size() == 4);
}

TEST_CASE("what is thinner than the offset vanishes, also when it is just so thin") {
  CHECK(offset(rectangle({0, 0}, {40, 20}), -10).empty());
  CHECK(offset(rectangle({0, 0}, {40, 20}), -10.5).empty());
  CHECK(offset(stadium(30, 8), -8).empty());
  CHECK(offset(circle({0, 0}, 8), -8).empty());
  CHECK(offset(circle({0, 0}, 8), -7.999).size() == 1);
}

TEST_CASE("offset by nothing is the outline itself, by no number an error") {
  CHECK(offset(stadium(30, 8), 0).front().outer == stadium(30, 8));
  CHECK_THROWS_AS(offset(stadium(30, 8), std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
}

TEST_CASE("a waist parts a shape in two") {
  const Outline dumbbell({{{0, 0}, 0},
                          {{20, 0}, 0},
                          {{20, 8}, 0},
                          {{40, 8}, 0},
                          {{40, 0}, 0},
                          {{60, 0}, 0},
                          {{60, 20}, 0},
                          {{40, 20}, 0},
                          {{40, 12}, 0},
                          {{20, 12}, 0},
                          {{20, 20}, 0},
                          {{0, 20}, 0}});
  CHECK(offset(dumbbell, -1.9).size() == 1);
  for (const double by : {-2.0, -2.1}) {  // the waist is 4 wide: at -2 it is a line
    const auto parts = offset(dumbbell, by);
    REQUIRE(parts.size() == 2);
    CHECK(parts[0].outer.bounds().high.x < 30);
    CHECK(parts[1].outer.bounds().low.x > 30);
    CHECK(parts[0].area_mm2() == test::nearly(parts[1].area_mm2()));
  }
}

TEST_CASE("a bay closes to a hole, then fills") {
  // A square bay 10 wide behind a mouth 4 wide.
  const Outline bay({{{0, 0}, 0},
                     {{30, 0}, 0},
                     {{30, 25}, 0},
                     {{17, 25}, 0},
                     {{17, 20}, 0},
                     {{20, 20}, 0},
                     {{20, 10}, 0},
                     {{10, 10}, 0},
                     {{10, 20}, 0},
                     {{13, 20}, 0},
                     {{13, 25}, 0},
                     {{0, 25}, 0}});
  CHECK(offset(bay, 1.9).front().holes.empty());
  for (const double by : {2.0, 3.0, 4.0}) {
    const auto grown = offset(bay, by);
    REQUIRE(grown.size() == 1);
    REQUIRE(grown[0].holes.size() == 1);
    const Outline& hole = grown[0].holes[0];
    CHECK(hole.bounds().size().x == test::nearly(10 - 2 * by));
    CHECK(contains(grown[0].outer, hole));
    if (by > 2) CHECK(grown[0].area_mm2() == test::nearly(grown[0].outer.area_mm2() - hole.area_mm2()));
  }
  CHECK(offset(bay, 5.5).front().holes.empty());
}

TEST_CASE("every point of an offset keeps its distance, and it holds the points it should and no others") {
  Random random(91);
  std::size_t parted = 0;
  std::size_t holed = 0;
  std::size_t vanished = 0;
  for (int i = 0; i < 6000; ++i) {
    const Outline outline = random_outline(random);
    const double by = random_distance_mm(random, outline);
    if (by == 0) continue;
    INFO("outline " << i << " by " << by);
    const auto regions = offset(outline, by);
    vanished += regions.empty() ? 1 : 0;
    parted += regions.size() > 1 ? 1 : 0;
    double worst = 0;
    for_each_loop(regions, [&](const Outline& loop) {
      for (const Edge& edge : loop.edges()) {
        for (const double t : {0.0, 0.03, 0.25, 0.5, 0.77}) {
          worst = std::max(worst, std::abs(-outline.depth_mm(edge.point(t)) - by));
        }
      }
      const auto fault = find_fault(loop.nodes());
      if (fault) FAIL_CHECK("node " << fault->node << " " << fault->what);
    });
    CHECK(worst < 1e-7);
    for (const Region& region : regions) holed += region.holes.empty() ? 0 : 1;
    const double room = std::max(0.0, by) + 2;
    const Vec2 low = outline.bounds().low - Vec2{room, room};
    const Vec2 high = outline.bounds().high + Vec2{room, room};
    for (int k = 0; k < 25; ++k) {
      const Vec2 p{random.between(low.x, high.x), random.between(low.y, high.y)};
      const double beyond = -outline.depth_mm(p) - by;
      // Corners and bays are followed to a micrometre: thinner parts may be dropped.
      if (std::abs(beyond) > 1e-3 && any_contains(regions, p) != (beyond < 0)) {
        FAIL_CHECK("at " << p.x << ", " << p.y);
      }
    }
    for (std::size_t k = 1; k < regions.size(); ++k) {
      CHECK(regions[k - 1].outer.nodes().front().at.x <= regions[k].outer.nodes().front().at.x);
    }
  }
  CHECK(parted > 150);
  CHECK(holed > 100);
  CHECK(vanished > 300);
}

TEST_CASE("areas agree with a polygon library's on a fine polyline") {
  Random random(92);
  for (int i = 0; i < 500; ++i) {
    const Outline outline = random_outline(random);
    const double by = random_distance_mm(random, outline);
    const auto regions = offset(outline, by);
    double boundary = outline.perimeter_mm();
    for_each_loop(regions, [&](const Outline& loop) { boundary += loop.perimeter_mm(); });
    INFO("outline " << i << " by " << by);
    // Both boundaries are off by no more than a chord's distance from its arc.
    CHECK(std::abs(total_area_mm2(regions) - library_area_mm2(outline, by)) < 2 * kChord_mm * boundary);
  }
}

TEST_CASE("a convex shape grown and shrunk again is itself") {
  Random random(93);
  for (int i = 0; i < 1000; ++i) {
    const Outline shape = random_convex(random);
    const double by = random.between(0.01, 20);
    const auto grown = offset(shape, by);
    REQUIRE(grown.size() == 1);
    // Steiner's formula, exact for every convex shape.
    CHECK(grown[0].area_mm2() ==
          Approx(shape.area_mm2() + shape.perimeter_mm() * by + pi * by * by).epsilon(1e-9));
    const auto back = offset(grown[0].outer, -by);
    REQUIRE(back.size() == 1);
    CHECK(back[0].outer.nodes().size() == shape.nodes().size());
    CHECK(std::abs(back[0].area_mm2() - shape.area_mm2()) < 1e-6);
    for (const Node& node : back[0].outer.nodes()) {
      const bool known = std::ranges::any_of(
          shape.nodes(), [&node](const Node& own) { return glm::length(own.at - node.at) < 1e-6; });
      CHECK(known);
    }
  }
}

TEST_CASE("an outline of 2,000 nodes is offset both ways") {
  std::vector<Node> chain;
  for (int i = 0; i < 2000; ++i) {
    const double a = 2 * pi * i / 2000;
    const double r = 1 + 0.04 * std::sin(9 * a);
    chain.push_back({{60 * r * std::cos(a), 16 * r * std::sin(a)}, i % 3 == 0 ? 1e-3 : 0});
  }
  const Outline outline(chain);
  for (const double by : {-9.0, -2.0, 2.0, 15.0}) {
    const auto regions = offset(outline, by);
    REQUIRE(regions.size() == 1);
    CHECK(std::abs(regions[0].area_mm2() - library_area_mm2(outline, by)) <
          2 * kChord_mm * (regions[0].outer.perimeter_mm() + outline.perimeter_mm()));
  }
}
