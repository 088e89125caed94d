// Bounds, motions and dimensions of drawings, held against dense samples and plain geometry.
#include "haftwright/drawing/drawing.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>

#include "drawing/random_drawing.hpp"
#include "haftwright/drawing/dimension_lines.hpp"
#include "haftwright/drawing/motion.hpp"
#include "support/nearly.hpp"

using namespace haftwright;

namespace {

constexpr double kPi = std::numbers::pi;

/// Many points of an edge by its centre and angles, which the program's own box does not use.
void sample(const Edge& edge, std::vector<Vec2>& points) {
  constexpr int kSteps = 4000;
  const Vec2 spoke = edge.from - edge.centre;
  for (int i = 0; i <= kSteps; ++i) {
    const double t = static_cast<double>(i) / kSteps;
    if (!edge.is_arc()) {
      points.push_back(edge.from * (1 - t) + edge.to * t);
      continue;
    }
    const double angle = std::atan2(spoke.y, spoke.x) + edge.sweep * t;
    points.push_back(edge.centre + Vec2{std::cos(angle), std::sin(angle)} * edge.radius);
  }
}

std::vector<Vec2> samples(const Shape& shape, double mm_per_point) {
  std::vector<Vec2> points;
  if (const auto* stroke = std::get_if<Stroke>(&shape))
    for (const Edge& edge : edges_of(*stroke)) sample(edge, points);
  if (const auto* fill = std::get_if<Fill>(&shape))
    for (const auto& loop : fill->loops)
      for (const Edge& edge : edges_of(loop)) sample(edge, points);
  if (const auto* circle = std::get_if<Circle>(&shape)) {
    const double radius = circle->radius.mm + circle->radius.points * mm_per_point;
    for (int i = 0; i < 20000; ++i)
      points.push_back(circle->centre +
                       Vec2{std::cos(2 * kPi * i / 20000), std::sin(2 * kPi * i / 20000)} * radius);
  }
  return points;
}

Bounds box_of(const std::vector<Vec2>& points) {
  Bounds box{Vec2(std::numeric_limits<double>::infinity()), Vec2(-std::numeric_limits<double>::infinity())};
  for (const Vec2 p : points) {
    box.low = glm::min(box.low, p);
    box.high = glm::max(box.high, p);
  }
  return box;
}

bool close(Vec2 a, Vec2 b, double within = 1e-9) {
  return glm::distance(a, b) <= within;
}

}  // namespace

TEST_CASE("the box round lines, arcs, circles and areas is that of dense samples") {
  std::size_t checked = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    const Drawing drawing = test::random_drawing(seed, 1);
    const std::vector<Vec2> points = samples(drawing.items[0].shape, 0.4);
    if (points.empty()) continue;
    const Bounds box = bounds_of(drawing, 0.4).value();
    const Bounds dense = box_of(points);
    INFO("seed " << seed);
    CHECK((box.low.x <= dense.low.x + 1e-9 && box.low.y <= dense.low.y + 1e-9));
    CHECK((box.high.x >= dense.high.x - 1e-9 && box.high.y >= dense.high.y - 1e-9));
    // A sample lies within half a step of the farthest place; what is missed there is of second order.
    CHECK((close(box.low, dense.low, 1e-4) && close(box.high, dense.high, 1e-4)));
    ++checked;
  }
  CHECK(checked > 100);
}

TEST_CASE("an empty drawing has no box, and parts of the sheet count by the scale") {
  CHECK_FALSE(bounds_of(Drawing{}));
  Drawing drawing;
  drawing.add(Role::pin, Circle{{10, 0}, {.mm = 1, .points = 6}});
  CHECK(bounds_of(drawing)->size().x == test::nearly(2));
  CHECK(bounds_of(drawing, 0.5)->size().x == test::nearly(8));
  Drawing written;
  written.add(Role::caption,
              Text{.at = {5, 5}, .shift_points = {10, 0}, .words = "abcde", .height = {.points = 10}});
  const Bounds box = bounds_of(written, 0.1).value();
  CHECK(close(box.low, {6, 5}));
  CHECK(close(box.size(), {3, 1}));  // five characters of 0.6 of a height of 1 mm
}

TEST_CASE("every role has a key of its own") {
  std::set<std::string_view> keys;
  for (std::size_t i = 0; i < kRoleCount; ++i) {
    const std::string_view key = key_of(static_cast<Role>(i));
    CHECK(!key.empty());
    CHECK(keys.insert(key).second);
  }
}

TEST_CASE("what is appended comes on top and keeps its tags apart") {
  Drawing under;
  under.add(Role::hole, Circle{}, 0);
  Drawing over;
  over.add(Role::pin, Circle{}, 1);
  over.add(Role::pin, Circle{});
  under.append(over, 5);
  REQUIRE(under.items.size() == 3);
  CHECK(under.items[0].tag == 0);
  CHECK(under.items[1].tag == 6);
  CHECK_FALSE(under.items[2].tag);
}

TEST_CASE("flattened arcs stay within their tolerance") {
  test::Random random(5);
  for (int i = 0; i < 100; ++i) {
    const Stroke stroke{test::random_chain(random, 6), i % 2 == 0};
    const std::vector<Vec2> points = flattened(stroke, 0.01);
    std::size_t arcs = 0;
    for (const Edge& edge : edges_of(stroke)) arcs += edge.is_arc();
    for (std::size_t k = 0; k + 1 < points.size(); ++k) {
      const Vec2 middle = (points[k] + points[k + 1]) * 0.5;
      double off = std::numeric_limits<double>::infinity();
      for (const Edge& edge : edges_of(stroke))
        off = std::min(off, edge.is_arc() ? std::abs(glm::distance(middle, edge.centre) - edge.radius)
                                          : std::abs(cross(edge.to - edge.from, middle - edge.from)) /
                                                glm::distance(edge.from, edge.to));
      CHECK(off <= 0.01 + 1e-9);
    }
    if (arcs == 0) CHECK(points.size() == stroke.nodes.size());
  }
  CHECK_THROWS_AS(flattened(straight({0, 0}, {1, 0}), 0), std::invalid_argument);
}

TEST_CASE("a motion moves all points alike, keeps lengths and turns senses only when it mirrors") {
  test::Random random(9);
  for (int i = 0; i < 200; ++i) {
    const Motion turn = turn_about(test::random_place(random), random.between(-7, 7));
    const Motion mirror =
        mirror_across(test::random_place(random), {random.between(-1, 1), random.between(0.1, 1)});
    const Motion motion = i % 3 == 0   ? turn
                          : i % 3 == 1 ? mirror
                                       : then(mirror, then(turn, move_by({3, -8})));
    const Stroke before{test::random_chain(random, 5), true};
    Drawing drawing;
    drawing.add(Role::visible_edge, before);
    const Drawing after = moved(drawing, motion);
    const std::vector<Edge> from = edges_of(before);
    const std::vector<Edge> to = edges_of(std::get<Stroke>(after.items[0].shape));
    REQUIRE(from.size() == to.size());
    for (std::size_t k = 0; k < from.size(); ++k)
      for (const double t : {0.0, 0.3, 0.77, 1.0})
        CHECK(close(motion.point(from[k].point(t)), to[k].point(t), 1e-8));
    const Vec2 a = test::random_place(random);
    const Vec2 b = test::random_place(random);
    CHECK(glm::distance(motion.point(a), motion.point(b)) == test::nearly(glm::distance(a, b)));
    const double sense = cross(motion.direction({1, 0}), motion.direction({0, 1}));
    CHECK(sense == test::nearly(motion.mirrored ? -1 : 1));
  }
}

TEST_CASE("motions one after the other are one motion; a mirror undoes itself; its line stays") {
  test::Random random(10);
  for (int i = 0; i < 100; ++i) {
    const Vec2 through = test::random_place(random);
    const Vec2 along{random.between(-1, 1), random.between(-1, 1)};
    const Motion mirror = mirror_across(through, along);
    const Motion turn = turn_about(test::random_place(random), random.between(-3, 3));
    const Vec2 p = test::random_place(random);
    CHECK(close(then(mirror, turn).point(p), turn.point(mirror.point(p)), 1e-8));
    CHECK(close(then(turn, mirror).point(p), mirror.point(turn.point(p)), 1e-8));
    CHECK(close(then(mirror, mirror).point(p), p, 1e-8));
    CHECK(close(mirror.point(through + along * 3.0), through + along * 3.0, 1e-8));
  }
  CHECK(close(turn_about({5, 5}, kPi / 2).point({6, 5}), {5, 6}));
  CHECK_THROWS_AS(mirror_across({0, 0}, {0, 0}), std::invalid_argument);
}

TEST_CASE("texts stay readable and keep to their place, also mirrored") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    test::Random random(seed);
    const Text before = test::random_text(random);
    Motion motion = turn_about(test::random_place(random), random.between(-7, 7));
    if (seed % 2 == 0)
      motion = then(motion, mirror_across(test::random_place(random), {1, random.between(-2, 2)}));
    Drawing drawing;
    drawing.add(Role::caption, before);
    const Drawing moved_drawing = moved(drawing, motion);
    const Text& after = std::get<Text>(moved_drawing.items[0].shape);
    CHECK(after.words == before.words);
    CHECK(std::abs(after.turn_rad) <= kPi / 2 + 1e-6);
    // Box for box: its corners in some other order.
    const auto box = text_box(after, 0.4);
    CHECK(cross(box[1] - box[0], box[3] - box[0]) > 0);
    for (const Vec2 corner : text_box(before, 0.4))
      CHECK(std::ranges::any_of(box, [&](Vec2 p) { return close(p, motion.point(corner), 1e-8); }));
  }
}

TEST_CASE("the lines of a dimension move with it") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    test::Random random(seed);
    const Dimension before = test::random_dimension(random);
    // A leader's shelf is level and its text goes outward: that is not turned.
    if (before.kind == Dimension::Kind::leader) continue;
    Motion motion = turn_about(test::random_place(random), random.between(-7, 7));
    if (seed % 2 == 0)
      motion = then(motion, mirror_across(test::random_place(random), {1, random.between(-2, 2)}));
    Drawing drawing;
    drawing.add(Role::dimension, before);
    const Drawing moved_drawing = moved(drawing, motion);
    const DimensionLines a = dimension_lines(before, 0.3);
    const DimensionLines b = dimension_lines(std::get<Dimension>(moved_drawing.items[0].shape), 0.3);
    REQUIRE(a.lines.size() == b.lines.size());
    for (std::size_t i = 0; i < a.lines.size(); ++i)
      for (std::size_t k = 0; k < 2; ++k) CHECK(close(motion.point(a.lines[i][k]), b.lines[i][k], 1e-8));
    REQUIRE(a.arrows.size() == b.arrows.size());
    for (std::size_t i = 0; i < a.arrows.size(); ++i)
      CHECK(close(motion.point(a.arrows[i][0]), b.arrows[i][0], 1e-8));
  }
}

TEST_CASE("a dimension's arrows stand on its measure, outside where there is no room, its words upright") {
  // 40 mm measured along x although the points differ in y; the line 10 mm above y = 0.
  const DimensionLines level =
      dimension_lines(level_dimension({0, 2}, {40, -3}, {0, 0}, {.mm = 10}, "40"), 0.3528);
  REQUIRE(level.arrows.size() == 2);
  CHECK(close(level.arrows[0][0], {0, 10}));
  CHECK(close(level.arrows[1][0], {40, 10}));
  CHECK(level.arrows[0][1].x > 0);  // it points outward from within
  REQUIRE(level.lines.size() == 3);
  CHECK(close(level.lines[0][0], {0, 2}));
  CHECK(level.lines[0][1].y > 10);
  CHECK(level.text->turn_rad == 0);
  CHECK(level.text->along == TextAlong::middle);

  const DimensionLines narrow =
      dimension_lines(level_dimension({0, 0}, {1, 0}, {0, 0}, {.mm = 5}, "1"), 0.3528);
  REQUIRE(narrow.arrows.size() == 2);
  CHECK(narrow.arrows[0][1].x < 0);
  CHECK(narrow.arrows[1][1].x > 1);
  CHECK(narrow.text->along == TextAlong::start);

  const DimensionLines upright =
      dimension_lines(upright_dimension({0, 30}, {0, 0}, {-5, 0}, {}, "30"), 0.3528);
  CHECK(upright.text->turn_rad == test::nearly(kPi / 2));  // read from the right, whichever way it was given

  const DimensionLines nothing = dimension_lines(aligned_dimension({3, 3}, {3, 3}, {}, ""), 0.3528);
  CHECK(nothing.arrows.empty());
  CHECK(nothing.ring->centre == Vec2(3, 3));

  const DimensionLines round = dimension_lines(diameter_dimension({10, 10}, 20, kPi / 4, "20"), 0.3528);
  CHECK(glm::distance(round.arrows[0][0], round.arrows[1][0]) == test::nearly(20));
  CHECK(glm::distance(round.text->at, Vec2(10, 10)) == test::nearly(10));

  CHECK_THROWS_AS(dimension_lines(aligned_dimension({0, 0}, {1, 0}, {}, ""), 0), std::invalid_argument);
}
