// Ends drawn out beyond the front face or the butt.
#include <catch2/catch.hpp>
#include <limits>

#include "geometry/shapes.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// A handle with straight upright faces front and butt, spine and belly of one arc each.
Outline arched_handle() {
  return Outline({{{0, -10}, 0.1}, {{100, -12}, 0}, {{100, 11}, 0.08}, {{0, 9}, 0}});
}

bool has_node(const Outline& outline, Vec2 at) {
  return std::ranges::any_of(outline.nodes(), [at](const Node& node) { return node.at == at; });
}

}  // namespace

TEST_CASE("drawing out a rectangle's end adds its height times the distance") {
  const Outline box = rectangle({0, -8}, {100, 12});
  for (const End end : {End::front, End::butt}) {
    const Outline drawn = drawn_out(box, end, 6);
    CHECK(drawn.area_mm2() == test::nearly(box.area_mm2() + 20 * 6));
    CHECK(drawn.bounds().size().x == test::nearly(106));
    CHECK(drawn.bounds().low.x == test::nearly(end == End::front ? -6 : 0));
    CHECK_FALSE(find_fault(drawn.nodes()));
    CHECK(drawn_out(box, end, 0) == box);
  }
}

TEST_CASE("drawing out a round butt moves the round as it is") {
  const Outline drawn = drawn_out(stadium(40, 9), End::butt, 3);
  CHECK(drawn.area_mm2() == Approx(stadium(43, 9).area_mm2()).epsilon(1e-14));
  for (const double angle : {-1.5, -0.7, 0.0, 0.4, 1.5}) {
    CHECK(std::abs(drawn.depth_mm({43 + 9 * std::cos(angle), 9 * std::sin(angle)})) < 1e-12);
  }
  const Outline round = drawn_out(circle({5, 5}, 4), End::front, 2);
  CHECK(round.area_mm2() == Approx(std::numbers::pi * 16 + 2 * 8).epsilon(1e-14));
}

TEST_CASE("spine and belly stay where they are") {
  const Outline handle = arched_handle();
  for (const End end : {End::front, End::butt}) {
    const Outline drawn = drawn_out(handle, end, 4);
    CHECK(drawn.area_mm2() == Approx(handle.area_mm2() + 4 * (end == End::front ? 19 : 23)).epsilon(1e-13));
    for (const Node& node : handle.nodes()) CHECK(has_node(drawn, node.at));
    for (double t = 0; t <= 1; t += 0.125) {
      CHECK(std::abs(drawn.depth_mm(handle.edges()[0].point(t))) < 1e-12);
      CHECK(std::abs(drawn.depth_mm(handle.edges()[2].point(t))) < 1e-12);
    }
  }
}

TEST_CASE("a slanted face moves whole, though its tip is at spine or belly") {
  for (const double slant : {-12.0, -3.0, 3.0, 12.0}) {
    // Spine and belly a little off x, so that only the corners tell where the face ends.
    const Outline handle({{{-slant, -10}, 0}, {{100, -13}, 0}, {{100, 12}, 0}, {{slant, 9}, 0}});
    const Outline drawn = drawn_out(handle, End::front, 5);
    CHECK(drawn.area_mm2() == Approx(handle.area_mm2() + 19 * 5).epsilon(1e-13));
    CHECK(has_node(drawn, {slant - 5, 9}));
    CHECK(has_node(drawn, {-slant - 5, -10}));
    CHECK_FALSE(find_fault(drawn.nodes()));
  }
}

TEST_CASE("fillets at a butt move with it, up to spine and belly that slope") {
  const Outline handle(filleted({{{0, -8}, 0}, {{90, -14}, 5}, {{90, 13}, 6}, {{0, 9}, 0}}));
  const Outline drawn = drawn_out(handle, End::butt, 2);
  CHECK(drawn.bounds().high.x == test::nearly(92));
  // The height of the moving part lies between that of the face and that of the whole end.
  const double height = (drawn.area_mm2() - handle.area_mm2()) / 2;
  CHECK(height > 16);
  CHECK(height < 27);
  CHECK(std::abs(drawn.depth_mm({40, 9 + 4.0 * 40 / 90})) < 1e-12);
  CHECK(std::abs(drawn.depth_mm({40, -8 - 6.0 * 40 / 90})) < 1e-12);
  CHECK_FALSE(find_fault(drawn.nodes()));
}

TEST_CASE("ends of random handles grow by the height of what moves and stay valid") {
  Random random(71);
  for (int i = 0; i < 2000; ++i) {
    const Outline handle = random_outline(random, random_handle);
    const End end = random.chance(0.5) ? End::front : End::butt;
    const double by = random.between(0.1, 20);
    INFO("handle " << i);
    const Outline once = drawn_out(handle, end, by);
    const double height = (once.area_mm2() - handle.area_mm2()) / by;
    CHECK_FALSE(find_fault(once.nodes()));
    CHECK(height > 0);
    CHECK(height <= handle.bounds().size().y + 1e-9);
    CHECK(once.bounds().size().x == test::nearly(handle.bounds().size().x + by));
    CHECK(once.bounds().size().y == test::nearly(handle.bounds().size().y));
    CHECK(contains(once, handle));
    // The same end moves however far it goes.
    CHECK(drawn_out(handle, end, 2 * by).area_mm2() ==
          Approx(handle.area_mm2() + 2 * by * height).epsilon(1e-12));
  }
}

TEST_CASE("a tip with both sides running back the same way moves only its face") {
  // Behind the toe at the origin the belly rises steeper than 45 degrees: it is belly all the same.
  const Outline toe({{{0, 0}, -0.5}, {{40, 2}, 0}, {{40, 30}, 0}, {{1, 30}, 0}});
  const Outline drawn = drawn_out(toe, End::front, 3);
  CHECK(drawn.area_mm2() == Approx(toe.area_mm2() + 3 * 30).epsilon(1e-13));
  CHECK(contains(drawn, toe));
}

TEST_CASE("what lies in the way of an end belongs to it and moves too") {
  // A lip hangs in front of the upper half of a leaning face.
  const Outline lip({{{0, 0}, 0}, {{40, 0}, 0}, {{40, 20}, 0}, {{2, 20}, 0}, {{2, 8}, 0}, {{10, 10}, 0}});
  const Outline drawn = drawn_out(lip, End::front, 5);
  CHECK(drawn.area_mm2() == Approx(lip.area_mm2() + 5 * 20).epsilon(1e-13));
  CHECK_FALSE(find_fault(drawn.nodes()));
  for (const Vec2 at : {Vec2{-5, 0}, {-3, 20}, {-3, 8}, {5, 10}}) CHECK(has_node(drawn, at));
  CHECK_NOTHROW(drawn_out(lip, End::butt, 5));
  // A butt with a notch: both its lips move.
  const Outline notched(
      {{{-10, -12}, 0}, {{105, -3}, 0}, {{95, 11}, 0}, {{105, 2}, 0}, {{95, 12}, 0}, {{-10, 12}, 0}});
  CHECK(drawn_out(notched, End::butt, 2).area_mm2() == Approx(notched.area_mm2() + 2 * 15).epsilon(1e-13));
}

TEST_CASE("an end that comes to a point has nothing to draw out") {
  const Outline pointed({{{-10, -10}, 0}, {{110, -13}, 0}, {{-10, 11}, 0}});
  CHECK_THROWS_AS(drawn_out(pointed, End::butt, 2), EndError);
  CHECK(drawn_out(pointed, End::front, 2).area_mm2() == test::nearly(pointed.area_mm2() + 2 * 21));
}

TEST_CASE("a corner arc a hair short of tangent or past it leaves no edge too short for the kernel") {
  for (const double hair : {-1e-6, -1e-7, -1e-8, -1e-9, 0.0, 1e-9, 1e-8, 1e-7, 1e-6}) {
    INFO(hair);
    const double quarter = std::tan(std::numbers::pi / 8 + hair / 4);
    const Outline round({{{-11, -13}, 0},
                         {{110, -13}, quarter},
                         {{118, -5}, 0},
                         {{118, 5}, quarter},
                         {{110, 13}, 0},
                         {{-11, 14}, 0}});
    const Outline drawn = drawn_out(round, End::butt, 3);
    CHECK_FALSE(find_fault(drawn.nodes()));
    CHECK(drawn.area_mm2() == Approx(round.area_mm2() + 3 * 26).epsilon(1e-6));
  }
}

TEST_CASE("nodes nearer than asked for become one, and nothing else changes") {
  const Outline box({{{0, 0}, 0}, {{100, 0}, 0}, {{100, 20}, 0.1}, {{0, 20}, 0}});
  std::vector<Node> chain = box.nodes();
  chain.insert(chain.begin() + 3, {{99.998, 20.001}, 0.1});
  chain[2].bulge = 0;
  chain.push_back({{0.003, 0.002}, 0});
  const Outline merged = with_nodes_merged(Outline(chain), 0.01);
  CHECK(merged.nodes().size() == 4);
  CHECK(merged == box);
  CHECK(with_nodes_merged(box, 0.01) == box);
  // A whole circle of nodes so near is thinned out, not lost.
  std::vector<Node> circle;
  for (int i = 0; i < 1000; ++i)
    circle.push_back({{std::cos(i * std::numbers::pi / 500), std::sin(i * std::numbers::pi / 500)}, 0});
  const Outline thinned = with_nodes_merged(Outline(circle), 0.01);
  CHECK(thinned.nodes().size() == 500);
  CHECK(thinned.area_mm2() == Approx(std::numbers::pi).epsilon(1e-4));
}

TEST_CASE("an end is drawn out by a finite distance, not below 0") {
  CHECK_THROWS_AS(drawn_out(stadium(40, 9), End::front, -1), std::invalid_argument);
  CHECK_THROWS_AS(drawn_out(stadium(40, 9), End::front, std::numeric_limits<double>::infinity()),
                  std::invalid_argument);
}
