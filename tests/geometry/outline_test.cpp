// Edges and outlines: area properties, nearest place, inside and outside.
#include "haftwright/geometry/outline.hpp"

#include <array>
#include <catch2/catch.hpp>

#include "geometry/shapes.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using std::numbers::pi;

namespace {

// Area integrals by Green's theorem with Gauss-Legendre quadrature along the edges: knows nothing of circular
// segments and their closed forms.
Moments quadrature_moments(const Outline& outline) {
  constexpr std::array<double, 3> abscissa{-0.7745966692414834, 0, 0.7745966692414834};
  constexpr std::array<double, 3> weight{5.0 / 18, 8.0 / 18, 5.0 / 18};
  constexpr int panels = 200;
  double area = 0;
  Vec2 first{0, 0};
  double xx = 0;
  double yy = 0;
  double xy = 0;
  for (const Edge& edge : outline.edges()) {
    for (int i = 0; i < panels; ++i) {
      for (std::size_t k = 0; k < 3; ++k) {
        const double t = (i + 0.5 + abscissa[k] / 2) / panels;
        const Vec2 p = edge.point(t);
        const Vec2 step = edge.direction(t) * (edge.length() * weight[k] / panels);
        area += (p.x * step.y - p.y * step.x) / 2;
        first += Vec2{p.x * p.x / 2 * step.y, -p.y * p.y / 2 * step.x};
        xx += p.x * p.x * p.x / 3 * step.y;
        yy -= p.y * p.y * p.y / 3 * step.x;
        xy += p.x * p.x * p.y / 2 * step.y;
      }
    }
  }
  const Vec2 c = first / area;
  return {area, c, yy - area * c.y * c.y, xx - area * c.x * c.x, xy - area * c.x * c.y};
}

// Winding number of a polyline round a point, by the angles its sides span: slow, and unlike the crossing
// rule it has no special cases.
double winding(const std::vector<Vec2>& points, Vec2 p) {
  double sum = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 a = points[i] - p;
    const Vec2 b = points[(i + 1) % points.size()] - p;
    sum += std::atan2(cross(a, b), glm::dot(a, b));
  }
  return sum / (2 * pi);
}

void check_moments(const Outline& outline, const Moments& wanted, double tolerance) {
  const Moments m = outline.moments();
  const double size = glm::length(outline.bounds().size());
  const double second = tolerance * wanted.area_mm2 * size * size;
  CHECK(m.area_mm2 == Approx(wanted.area_mm2).epsilon(tolerance));
  CHECK(outline.area_mm2() == Approx(wanted.area_mm2).epsilon(tolerance));
  CHECK(std::abs(m.centroid.x - wanted.centroid.x) < tolerance * size);
  CHECK(std::abs(m.centroid.y - wanted.centroid.y) < tolerance * size);
  CHECK(std::abs(m.ixx_mm4 - wanted.ixx_mm4) < second);
  CHECK(std::abs(m.iyy_mm4 - wanted.iyy_mm4) < second);
  CHECK(std::abs(m.ixy_mm4 - wanted.ixy_mm4) < second);
}

double to_fourth(double r) {
  return r * r * r * r;
}

}  // namespace

TEST_CASE("moments are those of the closed forms") {
  const double tolerance = 1e-13;
  SECTION("rectangle") {
    check_moments(rectangle({10, -3}, {50, 9}), {480, {30, 3}, 40.0 * 1728 / 12, 12.0 * 64000 / 12, 0},
                  tolerance);
  }
  SECTION("circle") {
    const double i = pi * to_fourth(6) / 4;
    check_moments(circle({70, -20}, 6), {pi * 36, {70, -20}, i, i, 0}, tolerance);
  }
  SECTION("half disc") {
    const double r = 9;
    const Outline half({{{-r, 0}, 0}, {{r, 0}, 1}});
    const double c = 4 * r / (3 * pi);
    const double base = pi * to_fourth(r) / 8;
    check_moments(half, {pi * r * r / 2, {0, c}, base - pi * r * r / 2 * c * c, base, 0}, tolerance);
  }
  SECTION("stadium") {
    const double a = 20;
    const double r = 5;
    const double disc = pi * r * r;
    // Two half discs, each (parallel axes) at its own centroid, and the rectangle between.
    const double out = a / 2 + 4 * r / (3 * pi);
    const double half_disc_own = pi * to_fourth(r) / 8 - disc / 2 * std::pow(4 * r / (3 * pi), 2);
    check_moments(stadium(a, r),
                  {2 * r * a + disc,
                   {a / 2, 0},
                   a * std::pow(2 * r, 3) / 12 + pi * to_fourth(r) / 4,
                   2 * r * a * a * a / 12 + 2 * (half_disc_own + disc / 2 * out * out),
                   0},
                  tolerance);
  }
  SECTION("quarter of a ring, an arc of either sign") {
    const double r = 12;
    const double s = 7;
    const double b = std::tan(pi / 8);
    const Outline ring({{{s, 0}, 0}, {{r, 0}, b}, {{0, r}, 0}, {{0, s}, -b}});
    const double area = pi * (r * r - s * s) / 4;
    const double c = (r * r * r - s * s * s) / 3 / area;
    const double square = pi * (to_fourth(r) - to_fourth(s)) / 16 - area * c * c;
    check_moments(ring, {area, {c, c}, square, square, (to_fourth(r) - to_fourth(s)) / 8 - area * c * c},
                  tolerance);
  }
}

TEST_CASE("moments of random outlines agree with quadrature") {
  Random random(11);
  for (int i = 0; i < 300; ++i) {
    const Outline outline = random_outline(random);
    INFO("outline " << i);
    check_moments(outline, quadrature_moments(outline), 1e-9);
  }
}

TEST_CASE("moments do not depend on how near to straight an arc is written") {
  // Through the change from closed form to series, and down to arcs taken as straight, the area under an arc
  // must follow the parabola it approaches: 2/3 of chord times sagitta, with a relative error of bulge^2.
  for (double bulge = 0.06; bulge > 1e-10; bulge *= 0.5) {
    const double added =
        Outline::trusted({{{0, 0}, bulge}, {{10, 0}, 0}, {{10, 10}, 0}, {{0, 10}, 0}}).area_mm2() - 100;
    const double parabola = 2.0 / 3 * 10 * (5 * bulge);
    CHECK(std::abs(added - parabola) < parabola * bulge * bulge + 1e-8);
  }
}

TEST_CASE("an arc that leaves its chord by less than 1e-4 mm is given in as straight") {
  const auto box = [](double bulge) {
    return Outline({{{0, 0}, bulge}, {{100, 0}, 0}, {{100, 10}, 0}, {{0, 10}, 0}});
  };
  for (const double bulge : {1e-300, 1e-12, 4e-8, 1e-7, 1.9e-6, -4e-8, -1.9e-6}) {
    CHECK(box(bulge) == box(0));
    CHECK(box(bulge).area_mm2() == 1000);
  }
  CHECK(box(2.1e-6).edges()[0].is_arc());
  CHECK(box(2.1e-6).area_mm2() == Approx(1000 + 2.0 / 3 * 100 * 50 * 2.1e-6).epsilon(1e-12));
  CHECK(find_fault({{{0, 0}, 1e-7}, {{100, 0}, 1e-7}}));  // two straight lines enclose nothing
}

TEST_CASE("an edge's points, directions and length belong together") {
  Random random(5);
  for (int i = 0; i < 2000; ++i) {
    const double size = std::pow(10, random.between(-2, 2));
    const Vec2 from{random.between(-50, 50), random.between(-50, 50)};
    const Vec2 to = from + Vec2{random.between(-size, size), random.between(-size, size)};
    const double bulge = std::copysign(std::pow(10, random.between(-9, 1)), random.between(-1, 1));
    const Edge edge(from, to, bulge);
    CHECK(edge.point(0) == from);
    CHECK(edge.point(1) == to);
    const double t = random.between(0.001, 0.999);
    const double step = 1e-4;
    const Vec2 chord = edge.point(t + step) - edge.point(t - step);
    const double moved = 2 * step * edge.length();
    CHECK(glm::length(chord / moved - edge.direction(t)) < 1e-6 + 1e-12 / moved);
    if (!edge.is_arc()) continue;
    CHECK(std::abs(edge.sweep) == test::nearly(4 * std::atan(std::abs(bulge))));
    if (edge.radius < 1e4) {
      CHECK(glm::length(edge.point(t) - edge.centre) == Approx(edge.radius).epsilon(1e-10));
    }
  }
}

TEST_CASE("a clockwise chain is turned round, keeping its first node") {
  const std::vector<Node> forward{{{0, 0}, 0.2}, {{10, 0}, 0}, {{10, 5}, -0.3}, {{0, 5}, 0.1}};
  const std::vector<Node> backward{{{0, 0}, -0.1}, {{0, 5}, 0.3}, {{10, 5}, 0}, {{10, 0}, -0.2}};
  CHECK(Outline(backward) == Outline(forward));
  CHECK(Outline(backward).nodes() == forward);
}

TEST_CASE("the nearest place is on the boundary, and no other is nearer") {
  Random random(21);
  for (int i = 0; i < 300; ++i) {
    const Outline outline = random_outline(random);
    const Vec2 middle = (outline.bounds().low + outline.bounds().high) / 2.0;
    const Vec2 size = outline.bounds().size();
    for (int k = 0; k < 40; ++k) {
      const Vec2 p = middle + Vec2{random.between(-1, 1) * size.x, random.between(-1, 1) * size.y};
      const Nearest nearest = outline.nearest(p);
      const Edge& edge = outline.edges()[nearest.edge];
      CHECK(glm::length(edge.point(nearest.t) - nearest.point) < 1e-11);
      CHECK(std::abs(glm::length(p - nearest.point) - nearest.distance_mm) < 1e-11);
      CHECK(std::abs(std::abs(outline.depth_mm(p)) - nearest.distance_mm) < 1e-13);
      double sampled = 1e9;
      for (const Edge& other : outline.edges()) {
        for (int s = 0; s <= 20; ++s) sampled = std::min(sampled, glm::length(p - other.point(s / 20.0)));
      }
      CHECK(nearest.distance_mm <= sampled + 1e-11);
    }
  }
}

TEST_CASE("the nearest place of points on and about the boundary is where they came from") {
  Random random(22);
  for (int i = 0; i < 200; ++i) {
    const Outline outline = random_outline(random);
    for (std::size_t e = 0; e < outline.edges().size(); ++e) {
      const Edge& edge = outline.edges()[e];
      const double t = random.between(0.2, 0.8);
      const Vec2 on = edge.point(t);
      const double depth = std::pow(10, random.between(-9, -6)) * edge.length();
      const Vec2 inward = turned_left(edge.direction(t));
      CHECK(std::abs(outline.depth_mm(on)) < 1e-12);
      CHECK(outline.depth_mm(on + inward * depth) == Approx(depth).margin(1e-12));
      CHECK(outline.depth_mm(on - inward * depth) == Approx(-depth).margin(1e-12));
      CHECK(std::abs(outline.nearest(on + inward * depth).t - t) < 1e-5);
    }
  }
}

TEST_CASE("inside and outside agree with the winding number of a fine polyline") {
  Random random(31);
  std::size_t compared = 0;
  for (int i = 0; i < 250; ++i) {
    const Outline outline = random_outline(random);
    const std::vector<Vec2> points = polyline(outline, 1e-3);
    const Vec2 low = outline.bounds().low - Vec2{1, 1};
    const Vec2 high = outline.bounds().high + Vec2{1, 1};
    for (int k = 0; k < 450; ++k) {
      Vec2 p{random.between(low.x, high.x), random.between(low.y, high.y)};
      // Level with a corner, or with an arc's highest or lowest place: where crossings are easily miscounted.
      const Edge& edge = outline.edges()[random.index(outline.edges().size())];
      if (k % 3 == 1) p.y = edge.from.y;
      if (k % 3 == 2 && edge.is_arc()) p.y = edge.centre.y + (k % 2 == 0 ? edge.radius : -edge.radius);
      if (outline.nearest(p).distance_mm < 2e-3) continue;
      ++compared;
      if (outline.contains(p) != (winding(points, p) > 0.5))
        FAIL("outline " << i << " at " << p.x << ", " << p.y);
      if (outline.contains(p) != (outline.depth_mm(p) > 0)) FAIL("depth has another sign");
    }
  }
  CHECK(compared > 100000);
}

TEST_CASE("bounds hold the boundary and touch it on all four sides") {
  Random random(41);
  for (int i = 0; i < 300; ++i) {
    const Outline outline = random_outline(random);
    Bounds sampled{outline.nodes().front().at, outline.nodes().front().at};
    for (const Vec2 p : polyline(outline, 1e-6)) {
      sampled.low = glm::min(sampled.low, p);
      sampled.high = glm::max(sampled.high, p);
    }
    CHECK(glm::length(sampled.low - outline.bounds().low) < 1e-5);
    CHECK(glm::length(sampled.high - outline.bounds().high) < 1e-5);
    CHECK(sampled.low.x >= outline.bounds().low.x - 1e-12);
    CHECK(sampled.high.y <= outline.bounds().high.y + 1e-12);
  }
}
