// The fold view: both ways exact, at true scale, and a joint line goes on over the edge.
#include "haftwright/preview/fold.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr FoldAbout kFolds[] = {FoldAbout::spine, FoldAbout::belly};

double loop_area(const std::vector<Vec2>& loop) {
  double twice = 0;
  for (std::size_t i = 0; i < loop.size(); ++i)
    twice += cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
  return std::abs(twice) / 2;
}

std::vector<const FoldLine*> lines_of(const FoldDrawing& drawing, FoldLineKind kind, Which side) {
  std::vector<const FoldLine*> found;
  for (const FoldLine& line : drawing.lines)
    if (line.kind == kind && line.side == side) found.push_back(&line);
  return found;
}

bool together(Vec2 a, Vec2 b, double within = 1e-9) {
  return glm::distance(a, b) <= within;
}

/// A plain block: square butt, flat faces, no round-over, upright joint at 40 mm with one strip.
Design block() {
  Design design =
      starter_design(starter_outline(StraightTang{
                         .length_mm = 100, .front_height_mm = 24, .butt_height_mm = 24, .butt_corner_mm = 0}),
                     4, LengthUnit::millimetre);
  design.left.finish = {.thickness_mm = {{0, 9}}};
  design.left.liners = {{"g10", 1}};
  Joint& joint = design.left.joints[0];
  joint = {.place_mm = 40, .spacers = {{"brass_c36000", 2}}};
  return design;
}

}  // namespace

TEST_CASE("a point of the fold view maps back to the same place") {
  test::Random random(11);
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Handle handle = lay_out(test::random_design(seed));
    for (const FoldAbout about : kFolds) {
      const FoldMap map(handle, about, 4);
      for (const FoldRegion region : {FoldRegion::left_face, FoldRegion::edge_strip, FoldRegion::right_face})
        for (int i = 0; i < 40; ++i) {
          const Which side = region == FoldRegion::right_face ? Which::right : Which::left;
          const Bounds& box = handle.side(side).finished.bounds();
          const double half = handle.tang_thickness_mm(0) / 2;
          const FoldPlace place{region, random.between(box.low.x, box.high.x),
                                region == FoldRegion::edge_strip ? random.between(-half, half)
                                                                 : random.between(box.low.y, box.high.y)};
          const Vec2 drawn = map.to_drawing(place);
          const FoldPlace back = map.to_handle(drawn);
          REQUIRE(back.region == region);
          REQUIRE(std::abs(back.x_mm - place.x_mm) <= 1e-9);
          REQUIRE(std::abs(back.y_or_z_mm - place.y_or_z_mm) <= 1e-9);
          REQUIRE(together(map.to_drawing(map.to_handle(drawn, region)), drawn));
        }
    }
  }
}

TEST_CASE("the regions of the fold view keep clear of each other") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    for (const FoldAbout about : kFolds) {
      const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
      for (const FoldArea& area : drawing.areas)
        for (const Vec2 p : area.loop) {
          REQUIRE((std::isfinite(p.x) && std::isfinite(p.y)));
          REQUIRE(drawing.map.to_handle(p).region == area.region);
        }
    }
  }
}

TEST_CASE("joint lines go on over the edge, on mirrored handles without a step") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 80; ++seed) {
    Design design = test::random_design(seed);
    design.right = {};
    const Handle handle = lay_out(design);
    for (const FoldAbout about : kFolds) {
      const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
      for (const Which side : {Which::left, Which::right}) {
        const auto faces = lines_of(drawing, FoldLineKind::joint_surface, side);
        const auto strips = lines_of(drawing, FoldLineKind::strip_joint, side);
        REQUIRE(faces.size() == strips.size());
        for (std::size_t i = 0; i < faces.size(); ++i) {
          const auto link =
              std::find_if(drawing.lines.begin(), drawing.lines.end(), [&](const FoldLine& line) {
                return line.kind == FoldLineKind::fold_link && line.side == side &&
                       line.joint == faces[i]->joint && line.line == faces[i]->line &&
                       together(line.points.back(), strips[i]->points.back());
              });
          REQUIRE(link != drawing.lines.end());
          const Vec2 end = about == FoldAbout::spine ? faces[i]->points.back() : faces[i]->points.front();
          REQUIRE(together(link->points.front(), end));
          REQUIRE(link->points.front().x == Approx(link->points.back().x).margin(1e-9));
        }
      }
      const auto left = lines_of(drawing, FoldLineKind::strip_joint, Which::left);
      const auto right = lines_of(drawing, FoldLineKind::strip_joint, Which::right);
      REQUIRE(left.size() == right.size());
      for (std::size_t i = 0; i < left.size(); ++i, ++checked) {
        REQUIRE(left[i]->points.front().x == Approx(right[i]->points.front().x).margin(1e-9));
        REQUIRE(left[i]->points.back().x == Approx(right[i]->points.back().x).margin(1e-9));
      }
    }
  }
  CHECK(checked > 50);
}

TEST_CASE("a step between the sides is drawn as large as it is") {
  Design design = block();
  design.right.joints = design.left.joints;
  design.right.joints->front().place_mm += 0.35;
  const FoldDrawing drawing = draw_fold(design, lay_out(design));
  const auto left = lines_of(drawing, FoldLineKind::strip_joint, Which::left);
  const auto right = lines_of(drawing, FoldLineKind::strip_joint, Which::right);
  REQUIRE(left.size() == 2);
  for (std::size_t i = 0; i < 2; ++i)
    CHECK(right[i]->points.front().x - left[i]->points.front().x == Approx(0.35).margin(1e-9));
}

TEST_CASE("areas of a plain block are those of its parts") {
  const Design design = block();
  const Handle handle = lay_out(design);
  for (const FoldAbout about : kFolds) {
    const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
    std::map<std::pair<std::string, FoldRegion>, double> area;
    for (const FoldArea& drawn : drawing.areas) area[{drawn.name, drawn.region}] += loop_area(drawn.loop);
    for (const std::string side : {"left", "right"}) {
      const FoldRegion face = side == "left" ? FoldRegion::left_face : FoldRegion::right_face;
      CHECK(area[{side + " front piece", face}] == Approx(39 * 24).epsilon(1e-9));
      CHECK(area[{side + " joint 1 spacer 1", face}] == Approx(2 * 24).epsilon(1e-9));
      CHECK(area[{side + " rear piece", face}] == Approx(59 * 24).epsilon(1e-9));
      // 9 mm with a 1 mm liner: the strip shows 8 mm of wood.
      CHECK(area[{side + " front piece", FoldRegion::edge_strip}] == Approx(39 * 8).epsilon(1e-9));
      CHECK(area[{side + " joint 1 spacer 1", FoldRegion::edge_strip}] == Approx(2 * 8).epsilon(1e-9));
      CHECK(area[{side + " rear piece", FoldRegion::edge_strip}] == Approx(59 * 8).epsilon(1e-9));
      CHECK(area[{side + " liner 1", FoldRegion::edge_strip}] == Approx(100).epsilon(1e-9));
    }
  }
}

TEST_CASE("faces of random parts with upright joints have the area of their inner faces") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const FoldDrawing drawing = draw_fold(design, handle, {.deviation_mm = 0.001});
    for (const SideLayout* side : {&handle.left, &handle.right})
      for (const Part& part : side->parts) {
        if (part.kind == PartKind::liner || part.front.tan_rake != 0) continue;
        if (!part.to_butt && part.rear.tan_rake != 0) continue;
        const auto face = std::find_if(drawing.areas.begin(), drawing.areas.end(), [&](const FoldArea& area) {
          return area.name == part.name && area.region != FoldRegion::edge_strip;
        });
        REQUIRE(face != drawing.areas.end());
        INFO("seed " << seed << ", " << part.name);
        CHECK(loop_area(face->loop) == Approx(part.inner_face_area_mm2).epsilon(2e-4).margin(0.05));
        ++checked;
      }
  }
  CHECK(checked > 20);
}

TEST_CASE("pins and holes are drawn where they are") {
  const Design design = block();
  const FoldDrawing drawing = draw_fold(design, lay_out(design));
  for (std::size_t pin = 0; pin < design.pins.size(); ++pin)
    for (const Which face : {Which::left, Which::right}) {
      int found = 0;
      for (const FoldCircle& circle : drawing.circles) {
        if (circle.kind != FoldCircleKind::pin || circle.index != pin || circle.face != face) continue;
        ++found;
        CHECK(circle.radius_mm == design.pins[pin].stock.diameter_mm() / 2);
        const FoldPlace place = drawing.map.to_handle(circle.centre);
        CHECK(place.x_mm == Approx(design.pins[pin].at_mm.x).margin(1e-9));
        CHECK(place.y_or_z_mm == Approx(design.pins[pin].at_mm.y).margin(1e-9));
      }
      CHECK(found == 1);
    }
  // The pin's band on the strip runs from surface to surface: 4 mm of steel and 9 mm on either side.
  const auto band = std::find_if(drawing.bands.begin(), drawing.bands.end(),
                                 [](const FoldBand& b) { return b.kind == FoldCircleKind::pin; });
  REQUIRE(band != drawing.bands.end());
  CHECK(band->high.y - band->low.y == Approx(22).epsilon(1e-9));
}

TEST_CASE("fold settings that make no drawing are refused") {
  const Design design = block();
  const Handle handle = lay_out(design);
  CHECK_THROWS_AS(draw_fold(design, handle, {.gap_mm = 0}), std::invalid_argument);
  CHECK_THROWS_AS(draw_fold(design, handle, {.deviation_mm = -1}), std::invalid_argument);
}
