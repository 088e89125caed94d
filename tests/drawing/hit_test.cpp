// What is under a point, held against samples of everything.
#include "haftwright/drawing/hit.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "drawing/random_drawing.hpp"
#include "haftwright/drawing/dimension_lines.hpp"

using namespace haftwright;

namespace {

constexpr double kPoint = 0.3;  // mm
constexpr double kStep = 0.02;  // mm between samples at most

void sample(const std::vector<Edge>& edges, std::vector<Vec2>& points) {
  for (const Edge& edge : edges) {
    const int steps = static_cast<int>(std::ceil(edge.length() / kStep));
    for (int i = 0; i <= steps; ++i) points.push_back(edge.point(static_cast<double>(i) / steps));
  }
}

/// Crossings of a ray toward +x with chords no longer than a step.
bool inside(const std::vector<Node>& loop, Vec2 p) {
  std::vector<Vec2> points;
  sample(edges_of(loop), points);
  bool odd = false;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 a = points[i];
    const Vec2 b = points[(i + 1) % points.size()];
    if ((a.y > p.y) != (b.y > p.y) && a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) > p.x) odd = !odd;
  }
  return odd;
}

struct Sampled {
  std::vector<Vec2> points;
  bool within = false;
};

Sampled look_at(const Shape& shape, Vec2 p) {
  Sampled found;
  const auto add_line = [&](Vec2 a, Vec2 b) { sample({Edge(a, b, 0)}, found.points); };
  const auto add_text = [&](const Text& text) {
    std::vector<Node> loop;
    for (const Vec2 corner : text_box(text, kPoint)) loop.push_back({corner, 0});
    sample(edges_of(loop), found.points);
    found.within = found.within || inside(loop, p);
  };
  if (const auto* stroke = std::get_if<Stroke>(&shape)) sample(edges_of(*stroke), found.points);
  if (const auto* circle = std::get_if<Circle>(&shape)) {
    const double radius = circle->radius.in_mm(kPoint);
    const std::vector<Node> loop{{circle->centre - Vec2{radius, 0}, 1},
                                 {circle->centre + Vec2{radius, 0}, 1}};
    sample(edges_of(loop), found.points);
    found.within = glm::distance(p, circle->centre) < radius;
  }
  if (const auto* fill = std::get_if<Fill>(&shape))
    for (const auto& loop : fill->loops) {
      sample(edges_of(loop), found.points);
      found.within = found.within != inside(loop, p);
    }
  if (const auto* band = std::get_if<Band>(&shape)) {
    const std::vector<Node> loop{{band->from[0], 0}, {band->from[2], 0}, {band->to[2], 0}, {band->to[0], 0}};
    sample(edges_of(loop), found.points);
    found.within = inside(loop, p);
  }
  if (const auto* text = std::get_if<Text>(&shape)) add_text(*text);
  if (const auto* dimension = std::get_if<Dimension>(&shape)) {
    const DimensionLines lines = dimension_lines(*dimension, kPoint);
    for (const auto& [a, b] : lines.lines)
      if (a != b) add_line(a, b);
    if (lines.text) add_text(*lines.text);
  }
  return found;
}

double nearest_sample(const Sampled& sampled, Vec2 p) {
  if (sampled.within) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (const Vec2 q : sampled.points) least = std::min(least, glm::distance(p, q));
  return least;
}

bool is_area(const Shape& shape) {
  return std::holds_alternative<Fill>(shape) || std::holds_alternative<Band>(shape);
}

}  // namespace

TEST_CASE("distances to items are those to their nearest samples") {
  std::size_t within = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    test::Random random(1000 + seed);
    const Drawing drawing = test::random_drawing(seed, 1);
    const Vec2 p = test::random_place(random) * 0.7;
    const Shape& shape = drawing.items[0].shape;
    const double brute = nearest_sample(look_at(shape, p), p);
    const double found = distance_mm(shape, p, kPoint);
    INFO("seed " << seed << ", shape " << shape.index());
    CHECK(found <= brute + 1e-9);
    CHECK(found >= brute - kStep);
    within += brute == 0;
  }
  CHECK(within > 5);
}

TEST_CASE("the item under a point is the one that a search over all of them finds") {
  std::size_t lines = 0;
  std::size_t areas = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    test::Random random(2000 + seed);
    const Drawing drawing = test::random_drawing(seed, 12);
    const Vec2 p = test::random_place(random) * 0.7;
    const double reach = random.between(0, 4);
    std::optional<std::size_t> wanted;
    std::optional<std::size_t> area;
    double least = reach;
    for (std::size_t i = 0; i < drawing.items.size(); ++i) {
      const Item& item = drawing.items[i];
      if (!item.tag) continue;
      const double distance = distance_mm(item.shape, p, kPoint);
      const bool on_it = nearest_sample(look_at(item.shape, p), p) == 0;
      if (is_area(item.shape) && on_it) area = i;
      if (!is_area(item.shape) && distance <= least) {
        least = distance;
        wanted = i;
      }
    }
    INFO("seed " << seed);
    const auto found = item_at(drawing, p, reach, kPoint);
    CHECK(found == (wanted ? wanted : area));
    lines += wanted.has_value();
    areas += !wanted && area;
  }
  CHECK(lines > 20);
  CHECK(areas > 10);
}

TEST_CASE("what is on top is found first, what has no tag never, an area last") {
  Drawing drawing;
  drawing.add(Role::material, Fill{.loops = {box_loop({0, 0}, {40, 20}), box_loop({20, 5}, {30, 15})}}, 7);
  drawing.add(Role::hole, Circle{{10, 10}, {.mm = 4}}, 1);
  drawing.add(Role::pin, Circle{{10, 10}, {.mm = 3}}, 2);
  drawing.add(Role::pin_bore, Circle{{10, 10}, {.mm = 1}});
  drawing.add(Role::joint_line, straight({35, 0}, {35, 20}), 3);
  const auto tag_at = [&](Vec2 p, double reach) {
    const auto item = item_at(drawing, p, reach, kPoint);
    return item ? drawing.items[*item].tag : std::nullopt;
  };
  CHECK(tag_at({10, 10}, 0) == 2);
  CHECK(tag_at({13.5, 10}, 0) == 1);
  CHECK(tag_at({2, 2}, 0) == 7);
  CHECK_FALSE(tag_at({25, 10}, 2));  // in the opening
  CHECK(tag_at({34, 10}, 1.5) == 3);
  CHECK(tag_at({34, 10}, 0.5) == 7);
  CHECK_FALSE(tag_at({50, 50}, 1));
}
