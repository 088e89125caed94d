// Loose edges become loops, loops lie in each other.
#include <cmath>
#include <numbers>

#include "drawings.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using Catch::Matchers::Contains;

namespace {

const std::vector<Node> kSquare{{{0, 0}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{0, 10}, 0}};

/// The sides of a square, with the second one's start off by `gap`.
std::string sides(double gap) {
  return dxf_line({0, 0}, {10, 0}) + dxf_line({10, 10}, {10, gap}) + dxf_line({10, 10}, {0, 10}) +
         dxf_line({0, 0}, {0, 10});
}

}  // namespace

TEST_CASE("gaps are closed up to the tolerance, and the largest is told") {
  CHECK(loops_of(dxf(sides(0))).gaps == 0);
  const intake::Loops closed = loops_of(dxf(sides(0.049)));
  REQUIRE(closed.loops.size() == 1);
  CHECK(closed.gaps == 1);
  CHECK(closed.largest_gap_mm == nearly(0.049));
  CHECK(closed.loops[0].outline.nodes().size() == 4);
  CHECK(closed.loops[0].outline.area_mm2() == Approx(100).margin(0.25));
  const intake::Loops open = loops_of(dxf(sides(0.051)));
  CHECK(open.loops.empty());
  REQUIRE(open.loose.size() == 1);
  CHECK(open.loose[0].nearest_mm.value() == nearly(0.051));
}

TEST_CASE("edges much shorter than the gap do not mislead") {
  // A chamfer of hundredths of a millimetre between sides that meet it exactly, and nearly.
  for (const double off : {0.0, 0.004}) {
    const intake::Loops loops =
        loops_of(dxf(dxf_line({0, 0}, {9.98, 0}) + dxf_line({9.98 + off, 0}, {10, 0.02}) +
                     dxf_line({10, 0.02 + off}, {10, 10}) + dxf_line({10, 10}, {0, 0})));
    REQUIRE(loops.loops.size() == 1);
    CHECK(loops.loops[0].outline.nodes().size() == 4);
  }
}

TEST_CASE("forks are refused with their place") {
  CHECK_THAT(refusal(dxf(sides(0) + dxf_line({10, 10}, {20, 20}))), Contains("(10.000, 10.000)"));
  CHECK_THAT(refusal(dxf(sides(0.03) + dxf_line({10.02, 0.01}, {20, 20}))),
             Contains("more than two lines end at (10.0"));
  // Beside a corner that meets exactly it is only a loose line.
  CHECK(loops_of(dxf(sides(0) + dxf_line({10.02, 10.02}, {20, 20}))).loose.size() == 1);
}

TEST_CASE("what is drawn twice is dropped and counted") {
  CHECK(loops_of(dxf(sides(0) + sides(0))).doubles == 4);
  CHECK(loops_of(dxf(sides(0) + dxf_line({10, 0}, {0, 0}))).doubles == 1);
  const intake::Loops loops = loops_of(dxf(dxf_circle({0, 0}, 3) + dxf_polyline(kSquare, true) +
                                           dxf_polyline({{{3, 0}, -1}, {{-3, 0}, -1}}, true) + sides(0)));
  CHECK(loops.loops.size() == 2);
  CHECK(loops.doubles == 2);
  // An arc and its chord have their ends in common and are no doubles.
  const std::string arc = dxf_polyline({{{0, 0}, 0.3}, {{10, 0}, 0}}, false);
  CHECK(loops_of(dxf(arc + dxf_line({0, 0}, {10, 0}))).loops.size() == 1);
  CHECK(loops_of(dxf(arc + arc + dxf_line({0, 0}, {10, 0}))).doubles == 1);
  // A shape and the same turned about its middle have area, box and middle in common.
  const auto z = [](double s) {
    return dxf_polyline({{{-s * 5, -3}, 0},
                         {{s * 5, -3}, 0},
                         {{s * 5, 0}, 0},
                         {{s * 2, 3}, 0},
                         {{-s * 5, 3}, 0},
                         {{-s * 5, 0}, 0}},
                        true);
  };
  CHECK(loops_of(dxf(z(1) + z(-1))).doubles == 0);
}

TEST_CASE("loops know what holds them") {
  const auto square = [](double half) {
    return dxf_polyline({{{-half, -half}, 0}, {{half, -half}, 0}, {{half, half}, 0}, {{-half, half}, 0}},
                        true);
  };
  const intake::Loops loops = loops_of(dxf(square(5) + dxf_circle({0, 0}, 2) + square(20) +
                                           dxf_circle({15, 15}, 1) + dxf_circle({40, 0}, 3) + square(1)));
  REQUIRE(loops.loops.size() == 6);
  CHECK(loops.loops[0].holds.size() == 2);
  CHECK(loops.loops[1].inside == std::optional<std::size_t>(0));
  CHECK(intake::outermost(loops) == std::vector<std::size_t>{0});
  for (const intake::Loop& loop : loops.loops)
    if (loop.inside) CHECK(loops.loops[*loop.inside].outline.area_mm2() > loop.outline.area_mm2());
  std::size_t held = 0;
  for (const intake::Loop& loop : loops.loops) held += loop.holds.size();
  CHECK(held == 4);
}

TEST_CASE("a line that crosses itself is told and gives no loop") {
  const intake::Loops loops = loops_of(dxf(
      dxf_polyline({{{0, 0}, 0}, {{10, 10}, 0}, {{10, 0}, 0}, {{0, 10}, 0}}, true) + dxf_circle({50, 0}, 1)));
  CHECK(loops.loops.size() == 1);
  REQUIRE(loops.spoilt.size() == 1);
  CHECK(loops.spoilt[0].line == 16);
  CHECK_FALSE(loops.spoilt[0].what.empty());
}

TEST_CASE("a hole of many straight sides is round within the tolerance or not at all") {
  const auto polygon = [](int n, double radius) {
    std::vector<Node> nodes;
    for (int i = 0; i < n; ++i) {
      const double a = 2 * std::numbers::pi * i / n;
      nodes.push_back({{radius * std::cos(a), radius * std::sin(a)}, 0});
    }
    return only_loop(dxf(dxf_polyline(nodes, true)));
  };
  CHECK(polygon(64, 2).round);
  CHECK_FALSE(polygon(12, 2).round);
  CHECK_FALSE(polygon(6, 0.05).round);
}
