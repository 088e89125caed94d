// Drawings written by a library that shares no code with the reader (see make_drawings.py).
#include <numbers>

#include "drawings.hpp"
#include "support/nearly.hpp"

using namespace haftwright;
using namespace haftwright::test;
using std::numbers::pi;

namespace {

intake::Sketch sketch_of(const std::string& name) {
  return intake::read_drawing_file(std::filesystem::path(HAFTWRIGHT_DRAWINGS) / name);
}

constexpr double kTangArea_mm2 = 97 * 26 + 13 * 13 * pi / 2;

}  // namespace

TEST_CASE("a drawing of 2000 in millimetres and one of 2018 in inches hold the same tang") {
  for (const std::string name : {"millimetres_r2000.dxf", "inches_r2018.dxf"}) {
    INFO(name);
    const intake::Sketch sketch = sketch_of(name);
    CHECK(sketch.ignored.at("TEXT") == 1);
    CHECK(sketch.hidden >= 1);
    const intake::Loops loops = intake::find_loops(sketch, 0.05, 0.02);
    REQUIRE(intake::outermost(loops).size() == 1);
    REQUIRE(loops.loops.size() == 6);
    CHECK(loops.loops[0].outline.area_mm2() == Approx(kTangArea_mm2).epsilon(1e-9));
    CHECK(loops.loose.size() == 1);
    const intake::PlacedPart part = intake::place(loops, 0, {});
    REQUIRE(part.holes.size() == 4);
    CHECK(part.holes[0].centre.x == nearly(20));
    CHECK(part.holes[0].diameter_mm == nearly(3.1));
    CHECK(part.holes[2].diameter_mm == Approx(4).margin(0.005));
    REQUIRE(part.cutouts.size() == 1);
    CHECK(Outline(part.cutouts[0]).area_mm2() == Approx(12 * pi).epsilon(2e-3));
    CHECK(loops.largest_deviation_mm <= 0.02);
    CHECK(part.length_mm == nearly(110));
  }
}

TEST_CASE("an R12 drawing of loose edges and mirrored blocks") {
  const intake::Sketch sketch = sketch_of("blocks_r12.dxf");
  const intake::Loops loops = intake::find_loops(sketch, 0.05, 0.02);
  const intake::PlacedPart part = intake::place(loops, intake::outermost(loops).at(0), {});
  CHECK(Outline(part.outline).area_mm2() == Approx(kTangArea_mm2).epsilon(1e-9));
  REQUIRE(part.holes.size() == 4);
  const Vec2 places[] = {{40, 4}, {60, 0}, {80, -3}, {80, 3}};
  const double diameters[] = {4, 4, 3, 3};
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(glm::distance(part.holes[i].centre, places[i]) < 1e-6);
    CHECK(part.holes[i].diameter_mm == nearly(diameters[i]));
  }
  REQUIRE(part.cutouts.size() == 1);
  CHECK(Outline(part.cutouts[0]).area_mm2() == Approx(40 + 4 * pi));
}
