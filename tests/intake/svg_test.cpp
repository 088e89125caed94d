// What stands in SVG files, one corner case each.
#include <cmath>
#include <numbers>

#include "drawings.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using Catch::Matchers::Contains;
using std::numbers::pi;

namespace {

double area_of_path(const std::string& data) {
  return only_loop(svg(svg_path(data))).outline.area_mm2();
}

}  // namespace

TEST_CASE("every command of a path, absolute and relative, draws the same") {
  CHECK(area_of_path("M10 10 L30 10 L30 20 L10 20 Z") == nearly(200));
  CHECK(area_of_path("m10 10 20 0 0 10-20 0z") == nearly(200));
  CHECK(area_of_path("M10,10H30V20H10Z") == nearly(200));
  CHECK(area_of_path("M10,10h20v10h-20z") == nearly(200));
  CHECK(area_of_path("M10.5.5L1e1,5-.5.5.5.5z") ==
        Approx(area_of_path("M10.5 0.5 L10 5 L-0.5 0.5 L0.5 0.5 z")));
  // Two parabolas under a chord of 20, 10 high: two thirds of 200 each.
  const double bow = 20.0 * 5 * 2 / 3;
  CHECK(area_of_path("M10 10 Q20 20 30 10 Z") == Approx(bow).epsilon(1e-3));
  CHECK(area_of_path("m10 10 q10 10 20 0 z") == Approx(bow).epsilon(1e-3));
  CHECK(area_of_path("M10 10 Q20 20 30 10 T50 10 V-10 H10 Z") == Approx(40 * 20).epsilon(1e-3));
  CHECK(area_of_path("M10 10 q10 10 20 0 t20 0 v-20 h-40 Z") == Approx(40 * 20).epsilon(1e-3));
  CHECK(area_of_path("M0 0 C0 10 20 10 20 0 S40 -10 40 0 V-20 H0 Z") == Approx(800).epsilon(1e-3));
  CHECK(area_of_path("M0 0 c0 10 20 10 20 0 s20 -10 20 0 v-20 h-40 Z") == Approx(800).epsilon(1e-3));
  // T and S after another command have their handle where the path is.
  CHECK(area_of_path("M0 0 L10 0 T20 0 V5 H0 Z") == nearly(100));
}

TEST_CASE("flags of arcs are single characters, and say which of four arcs is meant") {
  // A quarter of a circle of 5 between (0, 0) and (5, 5): the small piece or the large one, on either side.
  const double piece = 25 * (pi / 2 - 1) / 2, rest = 25 * pi - piece;
  CHECK(area_of_path("M0 0A5 5 0 0 0 5 5z") == nearly(piece));
  CHECK(area_of_path("M0 0a5 5 0 01 5 5z") == nearly(piece));
  CHECK(area_of_path("M0 0a5 5 0 115 5z") == nearly(rest));
  CHECK(area_of_path("M0 0a5 5 0 1,0,5,5z") == nearly(rest));
  const auto low_x = [](const std::string& data) {
    return only_loop(svg(svg_path(data))).outline.bounds().low.x;
  };
  // The y axis points down: rising angles turn clockwise to the eye.
  CHECK(low_x("M0 0a5 5 0 005 5z") == nearly(0));
  CHECK(low_x("M0 0a5 5 0 105 5z") == nearly(-5));
  // Radii that do not reach are scaled up: half a circle over the ends.
  CHECK(area_of_path("M0 0A1 1 0 0 0 10 0z") == nearly(12.5 * pi));
  // Two half circles are round; with unlike radii it is an ellipse, turned or not.
  CHECK(only_loop(svg(svg_path("M0 0a5 5 0 0 0 10 0a5 5 0 0 0-10 0"))).round->diameter_mm == nearly(10));
  const auto ellipse = only_loop(svg(svg_path("M0 0a10 5 30 1 0 .001 0z")));
  CHECK(ellipse.outline.area_mm2() == Approx(50 * pi).epsilon(2e-3));
  CHECK(ellipse.outline.nodes().size() < 30);
  // No radius: a straight line.
  CHECK(area_of_path("M0 0A0 5 0 0 0 10 0 L10 10z") == nearly(50));
}

TEST_CASE("after a path was closed it goes on from where it began") {
  const intake::Loops loops = loops_of(svg(svg_path("M0 0h10v10z l-10 0v-10z")));
  REQUIRE(loops.loops.size() == 2);
  CHECK(loops.loops[1].outline.bounds().low.x == nearly(-10));
}

TEST_CASE("basic shapes") {
  CHECK(only_loop(svg(R"(<rect x="5" y="5" width="20" height="10"/>)")).outline.area_mm2() == nearly(200));
  const auto rounded = only_loop(svg(R"(<rect x="5" y="5" width="20" height="10" rx="2"/>)"));
  CHECK(rounded.outline.area_mm2() == nearly(200 - (16 - 4 * pi)));
  CHECK(rounded.outline.nodes().size() == 8);
  CHECK(only_loop(svg(R"(<rect width="20" height="10" ry="50"/>)")).outline.area_mm2() ==
        Approx(pi * 10 * 5).epsilon(2e-3));
  const auto circle = only_loop(svg(R"(<circle cx="7" cy="8" r="1.5"/>)"));
  CHECK(circle.round->diameter_mm == nearly(3));
  CHECK(circle.round->centre.y == nearly(-8));
  CHECK(only_loop(svg(R"(<ellipse cx="7" cy="8" rx="10" ry="4"/>)")).outline.area_mm2() ==
        Approx(40 * pi).epsilon(2e-3));
  CHECK(only_loop(svg(R"(<polygon points="0,0 10,0 10 10"/>)")).outline.area_mm2() == nearly(50));
  CHECK(loops_of(svg(R"(<polyline points="0,0 10,0 10 10"/>)")).loose.size() == 1);
  CHECK(only_loop(svg(R"(<polyline points="0,0 10,0 10 10"/><line x1="10" y1="10" x2="0" y2="0"/>)"))
            .outline.area_mm2() == nearly(50));
  CHECK(only_loop(svg(R"(<circle cx="50%" cy="50%" r="2in"/>)")).round->centre.x == nearly(100));
}

TEST_CASE("transforms are applied from the inside out") {
  const auto circle = only_loop(svg(
      R"svg(<g transform="translate(10 20) rotate(90)"><g transform="scale(2)"><circle cx="5" r="1"/></g></g>)svg"));
  CHECK(circle.round->centre.x == nearly(10));
  CHECK(circle.round->centre.y == nearly(-30));
  CHECK(circle.round->diameter_mm == nearly(4));
  CHECK(circle.deviation_mm == 0);
  const auto about = only_loop(svg(R"svg(<circle cx="5" r="1" transform="rotate(180, 10 0)"/>)svg"));
  CHECK(about.round->centre.x == nearly(15));
  const auto mirrored =
      only_loop(svg(R"svg(<path transform="matrix(-1,0,0,1,0,0)" d="M0 0a5 5 0 1 0 5 5z"/>)svg"));
  CHECK(mirrored.outline.bounds().high.x == nearly(5));
  CHECK(mirrored.outline.nodes().size() == 3);
  // A sheared circle is none, but keeps its area.
  const auto sheared = only_loop(svg(R"svg(<circle r="10" transform="skewX(30)"/>)svg"));
  CHECK_FALSE(sheared.round);
  CHECK(sheared.outline.area_mm2() == Approx(100 * pi).epsilon(2e-3));
  CHECK(sheared.deviation_mm > 0);
  CHECK(sheared.deviation_mm <= 0.02);
  CHECK_THAT(refusal(svg("<circle r=\"1\" transform=\"spin(3)\"/>")), Contains("transform"));
}

TEST_CASE("symbols and uses, with boxes of their own") {
  const std::string symbols =
      R"(<defs><circle id="dot" r="1"/><circle r="50"/></defs>)"
      R"(<symbol id="box" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol>)";
  const auto dot = only_loop(svg(symbols + R"svg(<use href="#dot" x="5" y="6" transform="scale(3)"/>)svg"));
  CHECK(dot.round->centre.x == nearly(15));
  CHECK(dot.round->centre.y == nearly(-18));
  const auto box = only_loop(svg(symbols + R"(<use xlink:href="#box" x="5" y="6" width="40" height="20"/>)"));
  CHECK(box.outline.bounds().low.x == nearly(15));
  CHECK(box.outline.bounds().high.x == nearly(35));
  CHECK(box.outline.area_mm2() == nearly(400));
  const auto inner = only_loop(svg(
      R"(<svg x="10" y="10" width="20" height="40" viewBox="0 0 10 10" preserveAspectRatio="xMaxYMin slice"><rect width="10" height="10"/></svg>)"));
  CHECK(inner.outline.bounds().low.x == nearly(-10));
  CHECK(inner.outline.bounds().low.y == nearly(-50));
  CHECK_THAT(refusal(svg(R"(<use href="other.svg#dot"/>)")), Contains("another file"));
  CHECK_THAT(refusal(svg(R"(<use href="#none"/>)")), Contains("lacks"));
  CHECK_THAT(refusal(svg(R"(<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>)")),
             Contains("into itself"));
}

TEST_CASE("the size of the drawing, by its width, its box and its ratio") {
  const std::string circle = R"(<circle cx="50" cy="50" r="10"/>)";
  const auto across = [&](const std::string& size) {
    return only_loop(svg(circle, size)).round->diameter_mm;
  };
  CHECK(across(R"(width="100mm" height="100mm" viewBox="0 0 100 100")") == nearly(20));
  CHECK(across(R"(width="4in" viewBox="0 0 100 100")") == nearly(20 * 1.016));
  CHECK(across(R"(width="10cm" height="30cm" viewBox="0 0 100 100")") == nearly(20));
  CHECK(across(R"(width="10cm" height="30cm" viewBox="0 0 100 100" preserveAspectRatio="xMidYMid slice")") ==
        nearly(60));
  CHECK(across("") == nearly(20 * 25.4 / 96));
  CHECK(across(R"(width="72pt" height="72pt" viewBox="0 0 25.4 25.4")") == nearly(20));
  CHECK(across(R"(width="400Q" viewBox="0 0 100 100")") == nearly(20));
  CHECK(across(R"(width="96" viewBox="0 0 25.4 25.4")") == nearly(20));
  const auto stretched =
      only_loop(svg(R"(<rect width="10" height="10"/>)",
                    R"(width="10mm" height="30mm" viewBox="0 0 10 10" preserveAspectRatio="none")"));
  CHECK(stretched.outline.area_mm2() == nearly(300));
  const auto unsaid = svg(circle, R"(width="100%" viewBox="0 0 100 100")");
  CHECK_FALSE(intake::read_drawing(unsaid).mm_per_unit);
  CHECK(only_loop(unsaid, {.mm_per_unit = 25.4 / 72}).round->diameter_mm == nearly(20 * 25.4 / 72));
}

TEST_CASE("what is not seen, and what is no outline") {
  const auto sketch = intake::read_drawing(svg(
      R"(<style>.off, .gone { stroke: red; display: none } .on { display: inline } p .other { display: none }</style>)"
      R"(<clipPath><circle r="1"/></clipPath><mask><circle r="1"/></mask><marker><circle r="1"/></marker>)"
      R"(<g style="display:none"><circle r="1"/></g><circle class="on gone" r="1"/><circle class="other" r="1"/>)"
      R"(<g visibility="hidden"><circle r="2"/><circle r="3" visibility="visible"/></g>)"
      R"(<text>M0 0h10v10z</text><image href="http://nowhere.invalid/x.png"/><text/>)"));
  CHECK(sketch.paths.size() == 2);
  CHECK(sketch.hidden == 3);
  CHECK(sketch.ignored == std::map<std::string, std::size_t>{{"image", 1}, {"text", 2}});
}

TEST_CASE("groups are layers") {
  const std::string text =
      svg(R"(<g id="Tang"><g><circle r="1"/></g></g><g id="x" inkscape:label="Holes"><circle r="2"/></g>)"
          R"(<g><g inkscape:groupmode="layer" inkscape:label="deep"><circle r="3"/></g></g><circle r="4"/>)");
  for (const auto& [name, diameter] : std::map<std::string, double>{{"TANG", 2}, {"holes", 4}, {"deep", 6}}) {
    intake::ReadOptions options;
    options.layers = {name};
    CHECK(only_loop(text, options).round->diameter_mm == nearly(diameter));
  }
  CHECK(loops_of(text).loops.size() == 4);
}

TEST_CASE("a circle of four cubics, as drawing programs write it, is round and said to be so nearly") {
  // The usual handle of 0.5523 radii leaves the circle by 0.027 % of its radius (well known).
  const intake::Loops loops =
      loops_of(svg(svg_path("M10 0C10 5.523 5.523 10 0 10S-10 5.523-10 0-5.523-10 0-10 10-5.523 10 0z")));
  REQUIRE(loops.loops.size() == 1);
  REQUIRE(loops.loops[0].round);
  CHECK(loops.loops[0].round->diameter_mm == Approx(20).margin(0.01));
  CHECK(loops.out_of_round_mm > 0.0005);
  CHECK(loops.out_of_round_mm < 0.02);
}

TEST_CASE("path data that SVG does not know is refused with its place") {
  for (const char* data : {"L0 0", "M0", "M0 0L1", "M0 0X1 1", "M0 0A5 5 0 2 0 1 1", "M0 0L1 1 2",
                           "M0 0 1,,2", "M1e999 0", "M nan 0", "M0 0Lz"}) {
    INFO(data);
    CHECK_THAT(refusal(svg("\n\n" + svg_path(data))), Contains("line 3, element path: path data"));
  }
}
