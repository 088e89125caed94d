// What stands in DXF files, one corner case each.
#include <cmath>
#include <numbers>

#include "drawings.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using Catch::Matchers::Contains;
using std::numbers::pi;

TEST_CASE("a circle is round, whatever it is drawn as") {
  const std::string as_circle = dxf_circle({3, 4}, 2.5);
  const std::string half_arcs = dxf_polyline({{{0.5, 4}, 1}, {{5.5, 4}, 1}}, true);
  const std::string turning_right = dxf_polyline({{{0.5, 4}, -1}, {{5.5, 4}, -1}}, true);
  // Three quarters of a turn and one: a bulge over 1 is more than half a circle, and keeps its side.
  const double large = std::tan(3 * pi / 8), small = std::tan(pi / 8);
  const std::string unlike = dxf_polyline({{{5.5, 4}, large}, {{3, 1.5}, small}}, true);
  const std::string unlike_right = dxf_polyline({{{3, 1.5}, -large}, {{5.5, 4}, -small}}, true);
  const std::string arc = entity("ARC", tag(10, 3) + tag(20, 4) + tag(40, 2.5) + tag(50, 30) + tag(51, 390));
  const std::string ellipse = entity("ELLIPSE", tag(10, 3) + tag(20, 4) + tag(11, 1.5) + tag(21, 2) +
                                                    tag(40, 1) + tag(41, 0.0) + tag(42, 2 * pi));
  for (const std::string& text : {as_circle, half_arcs, turning_right, unlike, unlike_right, arc, ellipse}) {
    const intake::Loop loop = only_loop(dxf(text));
    CHECK(loop.outline.nodes().size() <= 3);
    CHECK(loop.deviation_mm == 0);
    REQUIRE(loop.round);
    CHECK(loop.round->centre.x == nearly(3));
    CHECK(loop.round->centre.y == nearly(4));
    CHECK(loop.round->diameter_mm == nearly(5));
  }
}

TEST_CASE("bulges keep their side and their size") {
  // A square with one side bowed in and one bowed out by the same half circle has the square's area.
  const intake::Loop loop =
      only_loop(dxf(dxf_polyline({{{0, 0}, 0}, {{10, 0}, 1}, {{10, 10}, 0}, {{0, 10}, -1}}, true)));
  CHECK(loop.outline.area_mm2() == nearly(100));
  CHECK(loop.outline.bounds().low.x == nearly(0));
  CHECK(loop.outline.bounds().high.x == nearly(15));
}

TEST_CASE("a polyline is closed by its flag, and only then is its last bulge an edge") {
  const std::vector<Node> nodes{{{0, 0}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{0, 10}, 0.5}};
  CHECK(only_loop(dxf(dxf_polyline(nodes, true))).outline.area_mm2() > 100);
  const intake::Loops open = loops_of(dxf(dxf_polyline(nodes, false)));
  CHECK(open.loops.empty());
  REQUIRE(open.loose.size() == 1);
  CHECK(open.loose[0].length_mm == nearly(30));
  CHECK(open.loose[0].nearest_mm.value() == nearly(10));
}

TEST_CASE("old polylines: bulges, frame points, meshes") {
  const auto vertex = [](double x, double y, double bulge, int flags = 0) {
    return entity("VERTEX", tag(10, x) + tag(20, y) + tag(42, bulge) + tag(70, flags));
  };
  const std::string corners = vertex(0, 0, 0) + vertex(99, 99, 0, 16) + vertex(10, 0, 1) + vertex(10, 10, 0);
  const std::string good = entity("POLYLINE", tag(66, 1) + tag(70, 1)) + corners + entity("SEQEND", "");
  CHECK(only_loop(dxf(good)).outline.area_mm2() == nearly(50 + 12.5 * pi));
  CHECK_THAT(refusal(dxf(entity("POLYLINE", tag(66, 1) + tag(70, 1)) + corners)), Contains("SEQEND"));
  const auto mesh = intake::read_drawing(
      std::string_view(dxf(entity("POLYLINE", tag(70, 64)) + corners + entity("SEQEND", ""))));
  CHECK(mesh.paths.empty());
  CHECK(mesh.ignored.at("POLYLINE mesh") == 1);
}

TEST_CASE("the extrusion turns some entities over and leaves others") {
  const std::string down = tag(210, 0.0) + tag(220, 0.0) + tag(230, -1.0);
  CHECK(only_loop(dxf(dxf_circle({3, 4}, 1, "0", down))).round->centre.x == nearly(-3));
  // A half circle over the x axis stays over it, mirrored left to right.
  const std::string half =
      entity("ARC", tag(10, 10) + tag(20, 0) + tag(40, 2) + tag(50, 0) + tag(51, 180) + down);
  const intake::Loop turned = only_loop(dxf(half + dxf_line({-12, 0}, {-8, 0})));
  CHECK(turned.outline.bounds().high.y == nearly(2));
  CHECK(turned.outline.area_mm2() == nearly(2 * pi));
  // An ellipse's places are the drawing's own; its parameter runs the other way round.
  const auto half_ellipse = [&](const std::string& more) {
    return only_loop(dxf(entity("ELLIPSE", tag(10, 5) + tag(20, 0) + tag(11, 4) + tag(21, 0) + tag(40, 0.5) +
                                               tag(41, 0.0) + tag(42, pi) + more) +
                         dxf_line({1, 0}, {9, 0})));
  };
  CHECK(half_ellipse("").outline.bounds().high.y == Approx(2).margin(0.02));
  CHECK(half_ellipse(down).outline.bounds().low.y == Approx(-2).margin(0.02));
  CHECK_THAT(refusal(dxf(dxf_circle({3, 4}, 1, "0", tag(210, 1.0) + tag(230, 0.0)))), Contains("tilted"));
  CHECK_THAT(refusal(dxf(entity(
                 "LINE", tag(10, 0) + tag(20, 0) + tag(30, 0) + tag(11, 1) + tag(21, 0) + tag(31, 5)))),
             Contains("line 16: LINE is not flat"));
}

TEST_CASE("a rational spline that is a circle comes out as one") {
  const double root = std::sqrt(0.5);
  const double corners[][2] = {{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}};
  std::string tags = tag(70, 1 + 4 + 8) + tag(71, 2) + tag(72, 12) + tag(73, 9) + tag(74, 0);
  for (const double knot : {0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4}) tags += tag(40, knot);
  for (int i = 0; i < 9; ++i) tags += tag(41, i % 2 == 0 ? 1.0 : root);
  for (const auto& corner : corners) tags += tag(10, 7 + 5 * corner[0]) + tag(20, 5 * corner[1]) + tag(30, 0);
  const intake::Loop loop = only_loop(dxf(entity("SPLINE", tags)));
  REQUIRE(loop.round);
  CHECK(loop.round->diameter_mm == Approx(10).margin(0.002));
  CHECK(loop.round->centre.x == Approx(7).margin(0.002));
  CHECK(loop.deviation_mm > 0);
  CHECK(loop.deviation_mm <= 0.02);
  CHECK(loop.outline.nodes().size() < 16);
  // Without weights the same control points are no circle.
  std::string plain = tags;
  for (std::size_t at; (at = plain.find("\n41\n")) != std::string::npos;) plain.replace(at, 4, "\n47\n");
  CHECK_FALSE(only_loop(dxf(entity("SPLINE", plain))).round);
}

TEST_CASE("corners of a spline stay corners") {
  // Of degree 2 with a double knot in the middle: two parabolas that meet at a right angle in (10, 10).
  std::string tags = tag(70, 8) + tag(71, 2);
  for (const double knot : {0, 0, 0, 1, 1, 2, 2, 2}) tags += tag(40, knot);
  for (const auto& p : {Vec2{0, 0}, Vec2{5, 5}, Vec2{10, 10}, Vec2{15, 5}, Vec2{20, 0}})
    tags += tag(10, p.x) + tag(20, p.y);
  const intake::Loop loop = only_loop(dxf(entity("SPLINE", tags) + dxf_line({20, 0}, {0, 0})));
  CHECK(loop.outline.area_mm2() == nearly(100));
  CHECK(loop.outline.nodes().size() == 3);
}

TEST_CASE("a spline by fit points goes through them, and that is said") {
  std::string tags = tag(70, 1) + tag(71, 3);
  for (int i = 0; i < 24; ++i)
    tags += tag(11, 10 * std::cos(i * pi / 12)) + tag(21, 10 * std::sin(i * pi / 12));
  const auto sketch = intake::read_drawing(dxf(entity("SPLINE", tags)));
  REQUIRE(sketch.notes.size() == 1);
  CHECK_THAT(sketch.notes[0], Contains("points alone"));
  const auto loops = intake::find_loops(sketch, 0.05, 0.02);
  REQUIRE(loops.loops.size() == 1);
  for (int i = 0; i < 24; ++i)
    CHECK(
        loops.loops[0].outline.nearest({10 * std::cos(i * pi / 12), 10 * std::sin(i * pi / 12)}).distance_mm <
        0.02);
}

TEST_CASE("blocks are scaled, mirrored, repeated and nested") {
  const auto block = [](const std::string& name, Vec2 base, const std::string& content) {
    return tag(0, "BLOCK") + tag(2, name) + tag(10, base.x) + tag(20, base.y) + content + tag(0, "ENDBLK");
  };
  const std::string blocks = section(
      "BLOCKS", block("Hole", {1, 0}, dxf_circle({1, 0}, 1)) +
                    block("hook", {0, 0}, dxf_polyline({{{0, 0}, 0}, {{4, 0}, 0}, {{0, 2}, 0}}, true)) +
                    block("two", {0, 0},
                          entity("INSERT", tag(2, "HOLE") + tag(10, 5) + tag(20, 0)) +
                              entity("INSERT", tag(2, "hook") + tag(10, 0) + tag(20, 3))));
  const auto insert = [](const std::string& name, const std::string& more) {
    return entity("INSERT", tag(2, name) + more);
  };
  const intake::Loops grid =
      loops_of(dxf(insert("hole", tag(10, 10) + tag(20, 20) + tag(41, 2) + tag(42, -2) + tag(50, 90) +
                                      tag(70, 3) + tag(71, 2) + tag(44, 8) + tag(45, 30)),
                   blocks));
  REQUIRE(grid.loops.size() == 6);
  for (const intake::Loop& loop : grid.loops) CHECK(loop.round->diameter_mm == nearly(4));
  double farthest_y = 0, least_x = 0;
  for (const intake::Loop& loop : grid.loops) {
    farthest_y = std::max(farthest_y, loop.round->centre.y);
    least_x = std::min(least_x, loop.round->centre.x);
  }
  CHECK(farthest_y == nearly(36));
  CHECK(least_x == nearly(-20));
  // Unequal scales make an ellipse of the circle, and keep the area of all times their product.
  const intake::Loops squeezed =
      loops_of(dxf(insert("TWO", tag(10, 0) + tag(20, 0) + tag(41, -3) + tag(42, 1)), blocks));
  REQUIRE(squeezed.loops.size() == 2);
  CHECK(squeezed.loops[0].outline.area_mm2() == nearly(12));
  CHECK(squeezed.loops[0].outline.bounds().low.x == nearly(-12));
  CHECK(squeezed.loops[1].outline.area_mm2() == Approx(3 * pi).epsilon(2e-3));
  CHECK_FALSE(squeezed.loops[1].round);
  CHECK(squeezed.largest_deviation_mm > 0);
  CHECK_THAT(refusal(dxf(insert("nowhere", tag(10, 0) + tag(20, 0)), blocks)), Contains("lacks"));
  const std::string loop = section("BLOCKS", block("a", {0, 0}, insert("b", tag(10, 0) + tag(20, 0))) +
                                                 block("b", {0, 0}, insert("A", tag(10, 0) + tag(20, 0))));
  CHECK_THAT(refusal(dxf(insert("a", tag(10, 0) + tag(20, 0)), loop)), Contains("into itself"));
}

TEST_CASE("units: what the file says, what was said, and neither") {
  const std::string circle = dxf_circle({0, 0}, 1);
  CHECK(only_loop(dxf(circle, "", 1)).round->diameter_mm == nearly(50.8));
  CHECK(only_loop(dxf(circle, "", 5)).round->diameter_mm == nearly(20));
  const intake::ReadOptions inches{.mm_per_unit = 25.4};
  CHECK(only_loop(dxf(circle, "", 4), inches).round->diameter_mm == nearly(50.8));
  const auto unsaid = intake::read_drawing(dxf(circle, "", 0));
  CHECK_FALSE(unsaid.mm_per_unit);
  CHECK(unsaid.unit_words.empty());
  CHECK(intake::read_drawing(section("ENTITIES", circle) + tag(0, "EOF")).paths.size() == 1);
}

TEST_CASE("what is hidden is counted, what is no outline is named, layers can be chosen") {
  const auto layer = [](const std::string& name, int colour, int flags) {
    return tag(0, "LAYER") + tag(2, name) + tag(70, flags) + tag(62, colour);
  };
  const std::string tables =
      section("TABLES", tag(0, "TABLE") + tag(2, "LAYER") + layer("Off", -7, 0) + layer("Cold", 7, 1) +
                            layer("Tang", 7, 0) + tag(0, "ENDTAB"));
  const std::string entities = dxf_circle({0, 0}, 1, "OFF") + dxf_circle({5, 0}, 1, "cold") +
                               dxf_circle({10, 0}, 1, "TANG") + dxf_circle({15, 0}, 1, "Other") +
                               dxf_circle({20, 0}, 1, "Tang", tag(67, 1)) +
                               dxf_circle({25, 0}, 1, "Tang", tag(60, 1)) + entity("TEXT", tag(1, "EOF")) +
                               entity("HATCH", tag(10, 0)) + entity("TEXT", "");
  const auto all = intake::read_drawing(dxf(entities, tables));
  CHECK(all.paths.size() == 2);
  CHECK(all.hidden == 4);
  CHECK(all.ignored == std::map<std::string, std::size_t>{{"HATCH", 1}, {"TEXT", 2}});
  intake::ReadOptions one;
  one.layers = {"tang"};
  CHECK(only_loop(dxf(entities, tables), one).round->centre.x == nearly(10));
  one.layers = {"tong"};
  CHECK_THAT(refusal(dxf(entities, tables), one),
             Contains("no layer called \"tong\"") && Contains("\"Tang\""));
}
