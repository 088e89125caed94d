// The finished surface has no steps, and its gradient is its own.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "geometry/shapes.hpp"
#include "haftwright/geometry/height_field.hpp"
#include "support/random.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

struct NamedOutline {
  std::string name;
  Outline outline;
};

std::vector<NamedOutline> outlines() {
  std::vector<Node> many;
  for (int i = 0; i < 120; ++i) {
    const double a = 2 * std::numbers::pi * i / 120;
    const double wave = 1 + 0.03 * std::sin(3 * a);
    // Shallow corners of both kinds, straight and bent either way between them: a traced outline.
    many.push_back({{57 + 57 * wave * std::cos(a), 17 * wave * std::sin(a)}, 0.01 * std::sin(3.0 * i)});
  }
  const auto grooved = filleted({{{0, -11}, 2},
                                 {{40, -10}, 25},
                                 {{62, -7}, 20},
                                 {{85, -13}, 15},
                                 {{112, -9}, 8},
                                 {{110, 12}, 8},
                                 {{60, 9}, 60},
                                 {{0, 11}, 2}});
  return {
      {"corners and arcs", Outline({{{0, -11}, 0},
                                    {{60, -13}, -0.12},
                                    {{90, -10}, 0.25},
                                    {{112, 8}, 0.3},
                                    {{95, 13}, 0},
                                    {{70, 9}, -0.1},
                                    {{40, 12}, 0},
                                    {{0, 11}, 0}})},
      {"a corner hardly there", Outline({{{0, -10}, 0},
                                         {{50, -10.05}, 0},
                                         {{100, -10}, 0},
                                         {{130, 0}, 0},
                                         {{100, 10}, 0},
                                         {{50, 9.9}, 0},
                                         {{0, 10}, 0}})},
      {"smooth, with fillets tighter than the ball", Outline(grooved)},
      {"round butt", stadium(90, 12)},
      {"a traced outline", Outline(many)},
  };
}

std::vector<SurfaceShape> surfaces() {
  return {
      {{{0, 9}}, {}, 0, 3, 0},
      {{{-20, 8}, {55, 11}, {150, 9}}, 28.0, -1, 3, -0.02},
      {{{20, 7}, {40, 11}, {80, 8}}, 25.0, 1, 3, 0},  // levels out within the handle
      {{{-40, 12}, {160, 9}}, 40.0, 0, 4, 0.01},
  };
}

/// The largest step found between two points a and b: the interval is halved into the half that changes more
/// until it is too short for anything but a step.
double step_between(const HeightField& field, Vec2 a, Vec2 b) {
  double low = field.height_mm(a);
  double high = field.height_mm(b);
  while (glm::length(b - a) > 1e-9) {
    const Vec2 middle = (a + b) / 2.0;
    const double here = field.height_mm(middle);
    if (std::abs(here - low) > std::abs(high - here)) {
      b = middle;
      high = here;
    } else {
      a = middle;
      low = here;
    }
  }
  return std::abs(high - low);
}

}  // namespace

TEST_CASE("no step anywhere in the surface but at the wall") {
  Random random(51);
  for (const NamedOutline& named : outlines())
    for (const SurfaceShape& shape : surfaces()) {
      CAPTURE(named.name, shape.round_over_mm, shape.base_slope);
      const HeightField field(named.outline, shape);
      const Bounds& box = named.outline.bounds();
      // A hundredth of a millimetre inside the edge the slope is at most some 20, so that a change of 1e-7
      // over 1e-9 mm is a step.
      constexpr double inside_mm = 0.01;
      for (int path = 0; path < 60; ++path) {
        Vec2 from{random.between(box.low.x, box.high.x), random.between(box.low.y, box.high.y)};
        const double angle = random.between(0, 2 * std::numbers::pi);
        const Vec2 step = Vec2{std::cos(angle), std::sin(angle)} * 0.02;
        for (int i = 0; i < 600; ++i, from += step) {
          if (named.outline.depth_mm(from) < inside_mm || named.outline.depth_mm(from + step) < inside_mm)
            continue;
          if (std::abs(field.height_mm(from) - field.height_mm(from + step)) < 1e-4) continue;
          CAPTURE(from.x, from.y);
          REQUIRE(step_between(field, from, from + step) < 1e-7);
        }
      }
    }
}

TEST_CASE("no step round a reflex corner where the ball climbs and falls within its swing") {
  Random random(53);
  // The ball passes the highest place of its way as it swings round the corner at (95, 13).
  const HeightField field(outlines().front().outline,
                          {{{-30, 7}, {40, 13}, {80, 9}, {150, 12}}, 20.0, 0, 5, 0.03});
  int compared = 0;
  for (int i = 0; i < 4000; ++i) {
    const Vec2 from{95 + random.between(-0.6, 0.6), 13 - random.between(0.02, 1)};
    const double angle = random.between(0, 2 * std::numbers::pi);
    const Vec2 to = from + Vec2{std::cos(angle), std::sin(angle)} * 0.01;
    if (field.edge().depth_mm(from) < 0.02 || field.edge().depth_mm(to) < 0.02) continue;
    ++compared;
    CAPTURE(from.x, from.y);
    REQUIRE(step_between(field, from, to) < 1e-7);
  }
  CHECK(compared > 2000);
}

TEST_CASE("the surface is smooth where the round-over meets the crown and over the crest") {
  const SurfaceShape shape{{{-20, 8}, {55, 11}, {150, 9}}, 28.0, -1, 3, -0.02};
  const HeightField field(stadium(90, 12), shape);
  for (const Edge& edge : field.edge().edges())
    for (double t = 0.03; t < 1; t += 0.07) {
      const Vec2 inward = turned_left(edge.direction(t));
      const Nearest at = field.edge().nearest(edge.point(t));
      const Vec2 contact = at.point + inward * field.round_over_reach_mm(at);
      const HeightField::Sample before = field.sample(contact - 1e-7 * inward);
      const HeightField::Sample after = field.sample(contact + 1e-7 * inward);
      CHECK(std::abs(before.height_mm - after.height_mm) < 1e-6);
      CHECK(glm::length(before.gradient - after.gradient) < 1e-6);
    }
  for (double x = 5; x < 90; x += 7) {
    CHECK(field.sample({x, -1}).gradient.y == Approx(0).epsilon(0).margin(1e-14));
    CHECK(std::abs(field.height_mm({x, -1 - 1e-6}) - field.height_mm({x, -1 + 1e-6})) < 1e-12);
  }
}

TEST_CASE("the gradient is the surface's own") {
  Random random(52);
  for (const NamedOutline& named : outlines())
    for (const SurfaceShape& shape : surfaces()) {
      CAPTURE(named.name, shape.round_over_mm, shape.base_slope);
      const HeightField field(named.outline, shape);
      const Bounds& box = named.outline.bounds();
      int compared = 0;
      int creased = 0;
      for (int i = 0; i < 600; ++i) {
        const Vec2 p{random.between(box.low.x, box.high.x), random.between(box.low.y, box.high.y)};
        if (named.outline.depth_mm(p) < 0.1) continue;
        constexpr double h = 2e-5;
        const auto slope = [&](Vec2 step) {
          return (field.height_mm(p + step) - field.height_mm(p - step)) / (2 * glm::length(step));
        };
        const Vec2 differences{slope({h, 0}), slope({0, h})};
        // Across a crease, differences of two lengths disagree.
        const Vec2 wider{slope({10 * h, 0}), slope({0, 10 * h})};
        const Vec2 gradient = field.sample(p).gradient;
        ++compared;
        if (glm::length(differences - wider) > 1e-5 * (1 + glm::length(gradient))) {
          ++creased;
          continue;
        }
        CAPTURE(p.x, p.y);
        REQUIRE(glm::length(gradient - differences) < 1e-5 * (1 + glm::length(gradient)));
      }
      CHECK(compared > 300);
      CHECK(creased < compared / 20);
    }
}
