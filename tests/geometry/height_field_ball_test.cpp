// The round-over against balls found by search. A section taken square to the edge, the crown's slope taken
// at the wrong place, or the wall taken as straight where it is an arc, all miss by far more than allowed
// here.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "geometry/rolling_ball_reference.hpp"
#include "geometry/shapes.hpp"
#include "haftwright/geometry/height_field.hpp"
#include "support/random.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// Ten times the worst difference measured: the search ends at steps of some thousandths of a millimetre,
/// near a flat top.
constexpr double kSearch_mm = 1e-6;

constexpr double third = std::numbers::pi / 3;

struct NamedShape {
  std::string name;
  SurfaceShape shape;
};

const std::vector<NamedShape>& surfaces() {
  const std::vector<MonotoneCubic::Station> swell{{-60, 8}, {40, 11}, {90, 9}, {170, 12}};
  static const std::vector<NamedShape> all{
      {"flat", {{{0, 9}}, {}, 0, 3, 0}},
      {"flat, tapered tang", {{{0, 9}}, {}, 0, 3, 0.05}},
      {"crown off the axis", {{{0, 9}}, 26.0, 1.5, 3, 0}},
      {"swell", {swell, {}, 0, 3, 0}},
      {"swell, crown, taper", {swell, 26.0, -1.5, 3, -0.03}},
      {"tight crown, large round-over", {swell, 18.0, 0, 4.5, 0.04}},
  };
  return all;
}

/// Points over the path between the shares t_from and t_to of each piece, from wall to well past the contact.
void compare(const Outline& outline, const SurfaceShape& shape, const std::vector<Edge>& path, double t_from,
             double t_to, Random& random, int points) {
  const HeightField field(outline, shape);
  const BallSearch search(shape, path);
  const double r = shape.round_over_mm;
  for (const Edge& piece : path)
    for (int i = 0; i < points; ++i) {
      const double t = random.between(t_from, t_to);
      const double near_wall = random.between(0.02, 1);
      const double depth = 2 * r * near_wall * near_wall;
      const Vec2 p = piece.point(t) + turned_left(piece.direction(t)) * (depth - r);
      CAPTURE(p.x, p.y, depth);
      CHECK(field.height_mm(p) == Approx(search.height_mm(p)).epsilon(0).margin(kSearch_mm));
    }
}

}  // namespace

TEST_CASE("the round-over along straight edges in every direction is that of the rolling ball") {
  Random random(21);
  // Spine and belly along x, butt across, and two slanting sides.
  const std::vector<Vec2> corners{{0, -12}, {95, -12}, {115, 2}, {105, 13}, {0, 12}};
  std::vector<Node> chain;
  for (const Vec2& corner : corners) chain.push_back({corner, 0});
  for (const NamedShape& surface : surfaces()) {
    CAPTURE(surface.name);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Vec2 from = corners[i];
      const Vec2 to = corners[(i + 1) % corners.size()];
      const Vec2 inward = turned_left((to - from) / glm::length(to - from));
      const Vec2 in = inward * surface.shape.round_over_mm;
      compare(Outline(chain), surface.shape, {Edge(from + in, to + in, 0)}, 0.45, 0.55, random, 4);
    }
  }
}

TEST_CASE("the round-over along convex arcs is that of the rolling ball") {
  Random random(22);
  const double radius = 12;
  for (const NamedShape& surface : surfaces()) {
    CAPTURE(surface.name);
    const double inner = radius - surface.shape.round_over_mm;
    const std::vector<Edge> path{Edge({60 - inner, 0}, {60 + inner, 0}, 1),
                                 Edge({60 + inner, 0}, {60 - inner, 0}, 1)};
    compare(circle({60, 0}, radius), surface.shape, path, 0.1, 0.9, random, 10);
  }
}

TEST_CASE("the round-over along a concave arc is that of the rolling ball") {
  Random random(23);
  // A finger groove of radius 15 in the belly, 18 wide.
  const double bulge = -std::tan(std::asin(9.0 / 15) / 2);
  const Outline outline(
      {{{0, -12}, 0}, {{50, -12}, bulge}, {{68, -12}, 0}, {{120, -12}, 0}, {{120, 13}, 0}, {{0, 13}, 0}});
  for (const NamedShape& surface : surfaces()) {
    CAPTURE(surface.name);
    const double scale = (15 + surface.shape.round_over_mm) / 15;
    const Vec2 centre{59, -24};
    const Edge groove(centre + scale * (Vec2{50, -12} - centre), centre + scale * (Vec2{68, -12} - centre),
                      bulge);
    compare(outline, surface.shape, {groove}, 0.25, 0.75, random, 15);
  }
}

TEST_CASE("the ball rolls smoothly from a straight edge onto an arc and back") {
  Random random(24);
  for (const NamedShape& surface : surfaces()) {
    CAPTURE(surface.name);
    const double inner = 12 - surface.shape.round_over_mm;
    const HeightField field(stadium(80, 12), surface.shape);
    const BallSearch search(surface.shape,
                            {Edge({40, -inner}, {80, -inner}, 0), Edge({80, -inner}, {80, inner}, 1),
                             Edge({80, inner}, {40, inner}, 0)});
    for (int i = 0; i < 16; ++i) {
      // Within the length that a ball can reach over from one to the other.
      const double along = random.between(-1, 1);
      const double depth = random.between(0.01, 1.2 * surface.shape.round_over_mm);
      const double side = random.chance(0.5) ? 1 : -1;
      Vec2 p{80 + along, side * (12 - depth)};
      if (along > 0) p = Vec2{80, 0} + (12 - depth) * Vec2{std::sin(along / 12), side * std::cos(along / 12)};
      CAPTURE(p.x, p.y, depth);
      CHECK(field.height_mm(p) == Approx(search.height_mm(p)).epsilon(0).margin(kSearch_mm));
    }
  }
}

TEST_CASE("the ball swings round a reflex corner") {
  Random random(25);
  // The belly steps in at (60, -6) by a corner of 60 degrees.
  const Vec2 corner{60, -6};
  const Vec2 out{std::cos(-third), std::sin(-third)};
  const Outline outline(
      {{{0, -6}, 0}, {corner, 0}, {corner + 8.0 * out, 0}, {{120, -13}, 0}, {{120, 13}, 0}, {{0, 13}, 0}});
  for (const NamedShape& surface : surfaces()) {
    CAPTURE(surface.name);
    const double r = surface.shape.round_over_mm;
    const Vec2 before = corner + Vec2{0, r};
    const Vec2 after = corner + turned_left(out) * r;
    const std::vector<Edge> path{Edge(before - Vec2{20, 0}, before, 0),
                                 Edge(before, after, -std::tan(third / 4)),
                                 Edge(after, after + 5.0 * out, 0)};
    const HeightField field(outline, surface.shape);
    const BallSearch search(surface.shape, path);
    for (int i = 0; i < 25; ++i) {
      const double angle = random.between(0.2 * third, 2.6 * third);
      const Vec2 p = corner + random.between(0.05, 1.3 * r) * Vec2{std::cos(angle), std::sin(angle)};
      CAPTURE(p.x, p.y);
      CHECK(field.height_mm(p) == Approx(search.height_mm(p)).epsilon(0).margin(kSearch_mm));
    }
  }
}

TEST_CASE("two round-overs meet in a mitre at a convex corner: the lower of both") {
  Random random(26);
  for (const NamedShape& surface : surfaces()) {
    CAPTURE(surface.name);
    const double r = surface.shape.round_over_mm;
    const HeightField field(rectangle({0, -11}, {100, 11}), surface.shape);
    // Each wall alone, drawn out past the corner.
    const BallSearch spine(surface.shape, {Edge({115, 11 - r}, {60, 11 - r}, 0)});
    const BallSearch butt(surface.shape, {Edge({100 - r, -10}, {100 - r, 14}, 0)});
    for (int i = 0; i < 20; ++i) {
      const Vec2 p{100 - random.between(0.01, 1.5 * r), 11 - random.between(0.01, 1.5 * r)};
      CAPTURE(p.x, p.y);
      CHECK(field.height_mm(p) ==
            Approx(std::min(spine.height_mm(p), butt.height_mm(p))).epsilon(0).margin(kSearch_mm));
    }
  }
}
