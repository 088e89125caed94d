// Lines and arcs through dense points.
#include <catch2/catch.hpp>
#include <functional>
#include <limits>

#include "geometry/shapes.hpp"
#include "haftwright/geometry/edge_measures.hpp"
#include "haftwright/geometry/segment.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using std::numbers::pi;

namespace {

std::vector<Vec2> sampled(int count, const std::function<Vec2(double)>& curve) {
  std::vector<Vec2> points;
  for (int i = 0; i < count; ++i) points.push_back(curve(2 * pi * i / count));
  return points;
}

std::vector<Vec2> sampled(const Outline& outline, double spacing_mm) {
  std::vector<Vec2> points;
  for (const Edge& edge : outline.edges()) {
    const double n = std::ceil(edge.length() / spacing_mm);
    for (int i = 0; i < n; ++i) points.push_back(edge.point(i / n));
  }
  return points;
}

/// Fits, and checks what every fit promises: the stated deviation is the true one and within the tolerance.
ArcFit checked_fit(const std::vector<Vec2>& points, double tolerance) {
  ArcFit fit = fit_arcs(points, tolerance);
  CHECK_FALSE(find_fault(fit.chain));
  const Outline fitted = Outline::trusted(fit.chain);
  double largest = 0;
  for (const Vec2 p : points) largest = std::max(largest, fitted.nearest(p).distance_mm);
  CHECK(fit.largest_deviation_mm == test::nearly(largest));
  CHECK(fit.largest_deviation_mm <= tolerance);
  for (const Vec2 p : polyline(fitted, tolerance / 100)) {
    double nearest = 1e9;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Edge side(points[i], points[(i + 1) % points.size()], 0);
      const double t =
          std::clamp(glm::dot(p - side.from, side.to - side.from) / std::pow(side.length(), 2), 0.0, 1.0);
      nearest = std::min(nearest, glm::length(p - side.point(t)));
    }
    CHECK(nearest < 2.5 * tolerance);
  }
  return fit;
}

}  // namespace

TEST_CASE("a sampled circle is two arcs of its radius") {
  const auto fit = checked_fit(sampled(720,
                                       [](double a) {
                                         return Vec2{3 + 10 * std::cos(a), 10 * std::sin(a)};
                                       }),
                               0.01);
  REQUIRE(fit.chain.size() == 2);
  const Outline fitted(fit.chain);
  for (const Edge& edge : fitted.edges()) CHECK(edge.radius == Approx(10).margin(1e-3));
  CHECK(fitted.area_mm2() == Approx(100 * pi).epsilon(1e-4));
}

TEST_CASE("an ellipse takes more arcs the tighter the tolerance, about as its cube root") {
  const auto points = sampled(2000, [](double a) { return Vec2{55 * std::cos(a), 14 * std::sin(a)}; });
  std::size_t before = 0;
  for (const double tolerance : {0.1, 0.0125}) {
    const auto fit = checked_fit(points, tolerance);
    CHECK(Outline(fit.chain).area_mm2() == Approx(pi * 55 * 14).epsilon(2e-3));
    if (before > 0) {
      CHECK(fit.chain.size() > before);
      CHECK(fit.chain.size() <= 2 * before + 4);
    }
    before = fit.chain.size();
  }
  CHECK(before < 30);
}

TEST_CASE("known lines and arcs come back in about their number, at their corners") {
  Random random(95);
  for (int i = 0; i < 60; ++i) {
    const Outline known = random_outline(random, i % 2 == 0 ? random_handle : random_steps);
    const auto points = sampled(known, 0.3);
    INFO("outline " << i);
    const auto fit = checked_fit(points, 0.02);
    CHECK(fit.chain.size() <= known.nodes().size() + 2);
    const Outline fitted(fit.chain);
    CHECK(std::abs(fitted.area_mm2() - known.area_mm2()) < 0.03 * known.perimeter_mm());
  }
  // No fillet: every corner is a given point, and nothing else is a joint.
  const Outline plate(
      {{{0, 0}, 0}, {{30, 0}, -0.6}, {{50, 0}, 0}, {{80, 0}, 0.3}, {{80, 20}, 0}, {{0, 20}, 0}});
  const auto fit = checked_fit(sampled(plate, 0.1), 0.02);
  REQUIRE(fit.chain.size() == plate.nodes().size());
  CHECK(fit.largest_deviation_mm < 1e-3);
  for (const Node& node : fit.chain) {
    const bool known = std::ranges::any_of(
        plate.nodes(), [&node](const Node& own) { return glm::length(own.at - node.at) < 0.11; });
    CHECK(known);
  }
}

TEST_CASE("a smooth curve of ever changing bend is followed") {
  const auto points = sampled(1500, [](double a) {
    const double r = 20 + 4 * std::sin(3 * a) + 2 * std::cos(2 * a + 0.3);
    return Vec2{2 * r * std::cos(a), r * std::sin(a)};
  });
  const auto fit = checked_fit(points, 0.02);
  CHECK(fit.chain.size() < 60);
}

TEST_CASE("noise well under the tolerance costs no edges") {
  Random random(96);
  auto points = sampled(720, [](double a) { return Vec2{10 * std::cos(a), 10 * std::sin(a)}; });
  for (Vec2& p : points) p += Vec2{random.between(-0.01, 0.01), random.between(-0.01, 0.01)};
  CHECK(checked_fit(points, 0.04).chain.size() <= 3);
}

TEST_CASE("few far points stay the polygon they are") {
  const std::vector<Vec2> square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  const auto fit = checked_fit(square, 0.05);
  CHECK(fit.chain.size() == 4);
  CHECK(fit.largest_deviation_mm == 0);
  CHECK(Outline(fit.chain).area_mm2() == test::nearly(100));
}

TEST_CASE("doubled points do no harm, and the chain turns the way the points do") {
  auto points = sampled(200, [](double a) { return Vec2{10 * std::cos(-a), 6 * std::sin(-a)}; });
  points.insert(points.begin() + 50, points[50]);
  points.push_back(points.front());
  const auto fit = checked_fit(points, 0.05);
  for (const Node& node : fit.chain) CHECK(node.bulge < 0);
}

TEST_CASE("what can't be fitted is refused") {
  const std::vector<Vec2> triangle{{0, 0}, {1, 0}, {0, 1}};
  const std::vector<Vec2> pair{{0, 0}, {1, 0}, {1, 0}};
  const std::vector<Vec2> broken{{0, 0}, {1, 0}, {0, std::numeric_limits<double>::infinity()}};
  CHECK(fit_arcs(triangle, 0.01).chain.size() == 3);
  CHECK_THROWS_AS(fit_arcs(pair, 0.01), std::invalid_argument);
  CHECK_THROWS_AS(fit_arcs(broken, 0.01), std::invalid_argument);
  CHECK_THROWS_AS(fit_arcs(triangle, 0), std::invalid_argument);
  CHECK_THROWS_AS(fit_arcs(triangle, std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
}

TEST_CASE("an open curve keeps its ends, and its deviation is measured both ways") {
  const auto curve = [](double t) { return Vec2{40 * t, 6 * std::sin(2 * pi * t)}; };
  std::vector<Vec2> points;
  for (int i = 0; i <= 1500; ++i) points.push_back(curve(i / 1500.0));
  std::size_t before = 0;
  for (const double tolerance : {0.1, 0.0125}) {
    const ArcFit fit = fit_open_arcs(points, tolerance);
    CHECK(fit.chain.front().at == points.front());
    CHECK(fit.chain.back().at == points.back());
    CHECK(fit.largest_deviation_mm <= tolerance);
    CHECK(fit.chain.size() > before);
    CHECK(fit.chain.size() < 40);
    before = fit.chain.size();
    // Measured anew, each place against all edges, and places of the edges against all points.
    double largest = 0;
    for (const Vec2 p : points) {
      double nearest = 1e9;
      for (std::size_t i = 0; i + 1 < fit.chain.size(); ++i)
        nearest = std::min(
            nearest, distance_to_edge_mm(p, Edge(fit.chain[i].at, fit.chain[i + 1].at, fit.chain[i].bulge)));
      largest = std::max(largest, nearest);
    }
    CHECK(largest <= fit.largest_deviation_mm * (1 + 1e-9));
    for (std::size_t i = 0; i + 1 < fit.chain.size(); ++i)
      for (double t = 0; t <= 1; t += 0.05) {
        const Vec2 p = Edge(fit.chain[i].at, fit.chain[i + 1].at, fit.chain[i].bulge).point(t);
        double nearest = 1e9;
        for (std::size_t k = 0; k + 1 < points.size(); ++k)
          nearest = std::min(nearest, distance_to_segment_mm(p, points[k], points[k + 1]));
        CHECK(nearest <= fit.largest_deviation_mm * 1.01 + 1e-6);
      }
  }
}

TEST_CASE("open fits of lines, of arcs, and of a curve that ends where it begins") {
  const std::vector<Vec2> line{{0, 0}, {1, 0}, {2, 0}, {7, 0}};
  CHECK(fit_open_arcs(line, 0.01).chain.size() == 2);
  std::vector<Vec2> round;
  for (int i = 0; i <= 360; ++i) round.push_back({5 * std::cos(i * pi / 180), 5 * std::sin(i * pi / 180)});
  round.back() = round.front();
  const ArcFit circle = fit_open_arcs(round, 0.01);
  CHECK(circle.chain.size() <= 4);
  CHECK(circle.chain.back().at == circle.chain.front().at);
  const std::vector<Vec2> two{{0, 0}, {1, 1}};
  CHECK(fit_open_arcs(two, 0.01).chain.size() == 2);
  CHECK_THROWS_AS(fit_open_arcs(std::vector<Vec2>{{1, 1}, {1, 1}}, 0.01), std::invalid_argument);
  CHECK_THROWS_AS(fit_open_arcs(line, 0), std::invalid_argument);
  CHECK_THROWS_AS(fit_open_arcs(std::vector<Vec2>{{1, 1}, {std::nan(""), 1}}, 0.01), std::invalid_argument);
}

TEST_CASE("where a curve turns back on itself the deviation between the points is not left out") {
  // Out along a line and back beside it: the fit may round the tip off, and what it states covers that.
  std::vector<Vec2> hairpin;
  for (int i = 0; i <= 50; ++i) hairpin.push_back({i * 0.2, 0});
  for (int i = 50; i >= 0; --i) hairpin.push_back({i * 0.2, 0.03});
  const ArcFit fit = fit_open_arcs(hairpin, 0.02);
  double farthest = 0;
  for (std::size_t i = 0; i + 1 < fit.chain.size(); ++i)
    for (double t = 0; t <= 1; t += 0.02) {
      const Vec2 p = Edge(fit.chain[i].at, fit.chain[i + 1].at, fit.chain[i].bulge).point(t);
      double nearest = 1e9;
      for (std::size_t k = 0; k + 1 < hairpin.size(); ++k)
        nearest = std::min(nearest, distance_to_segment_mm(p, hairpin[k], hairpin[k + 1]));
      farthest = std::max(farthest, nearest);
    }
  CHECK(farthest <= fit.largest_deviation_mm * 1.01 + 1e-6);
}
