// The fold view: both ways exact, at true scale, and a joint line goes on over the edge.
#include "haftwright/preview/fold.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <tuple>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "preview/fold_items.hpp"
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

std::vector<test::FoldItem> lines_of(const FoldDrawing& drawing, FoldKind kind, bool strip, Which side) {
  std::vector<test::FoldItem> found = test::fold_items(drawing, kind, strip);
  std::erase_if(found, [&](const test::FoldItem& item) { return item.thing->side != side; });
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
      for (const bool strip : {false, true})
        for (const test::FoldItem& area : test::fold_items(drawing, FoldKind::area, strip))
          for (const Vec2 p : area.points) {
            REQUIRE((std::isfinite(p.x) && std::isfinite(p.y)));
            REQUIRE(drawing.map.to_handle(p).region == area.thing->region);
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
        const auto faces = lines_of(drawing, FoldKind::joint, false, side);
        const auto strips = lines_of(drawing, FoldKind::joint, true, side);
        REQUIRE(faces.size() == strips.size());
        for (std::size_t i = 0; i < faces.size(); ++i) {
          const auto links = lines_of(drawing, FoldKind::link, false, side);
          const auto link = std::find_if(links.begin(), links.end(), [&](const test::FoldItem& line) {
            return line.thing->joint == faces[i].thing->joint && line.thing->line == faces[i].thing->line &&
                   together(line.points.back(), strips[i].points.back());
          });
          REQUIRE(link != links.end());
          const Vec2 end = about == FoldAbout::spine ? faces[i].points.back() : faces[i].points.front();
          REQUIRE(together(link->points.front(), end));
          REQUIRE(link->points.front().x == Approx(link->points.back().x).margin(1e-9));
        }
      }
      const auto left = lines_of(drawing, FoldKind::joint, true, Which::left);
      const auto right = lines_of(drawing, FoldKind::joint, true, Which::right);
      REQUIRE(left.size() == right.size());
      for (std::size_t i = 0; i < left.size(); ++i, ++checked) {
        REQUIRE(left[i].points.front().x == Approx(right[i].points.front().x).margin(1e-9));
        REQUIRE(left[i].points.back().x == Approx(right[i].points.back().x).margin(1e-9));
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
  const auto left = lines_of(drawing, FoldKind::joint, true, Which::left);
  const auto right = lines_of(drawing, FoldKind::joint, true, Which::right);
  REQUIRE(left.size() == 2);
  for (std::size_t i = 0; i < 2; ++i)
    CHECK(right[i].points.front().x - left[i].points.front().x == Approx(0.35).margin(1e-9));
}

TEST_CASE("areas of a plain block are those of its parts") {
  const Design design = block();
  const Handle handle = lay_out(design);
  for (const FoldAbout about : kFolds) {
    const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
    std::map<std::pair<std::string, FoldRegion>, double> area;
    for (const bool strip : {false, true})
      for (const test::FoldItem& drawn : test::fold_items(drawing, FoldKind::area, strip))
        area[{drawn.thing->name, drawn.thing->region}] += loop_area(drawn.points);
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
        const auto areas = test::fold_items(drawing, FoldKind::area, false);
        const auto face = std::find_if(areas.begin(), areas.end(), [&](const test::FoldItem& area) {
          return area.thing->name == part.name;
        });
        REQUIRE(face != areas.end());
        INFO("seed " << seed << ", " << part.name);
        CHECK(loop_area(face->points) == Approx(part.inner_face_area_mm2).epsilon(2e-4).margin(0.05));
        ++checked;
      }
  }
  CHECK(checked > 20);
}

TEST_CASE("every pin, hole and joint of a handle is drawn once where it is, at its own size") {
  std::size_t holes = 0;
  for (std::uint64_t seed = 0; seed <= 60; ++seed) {
    const Design design = seed == 0 ? block() : test::random_design(seed);
    const Handle handle = lay_out(design);
    for (const FoldAbout about : kFolds) {
      const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
      INFO("seed " << seed);
      REQUIRE(drawing.things.size() == drawing.drawing.items.size());
      for (std::size_t i = 0; i < drawing.things.size(); ++i) REQUIRE(drawing.drawing.items[i].tag == i);
      // Counts of every round by kind, face, place and size, those that the handle has taken away.
      std::map<std::tuple<FoldKind, FoldRegion, std::size_t, double>, int> left;
      for (const FoldKind kind : {FoldKind::pin, FoldKind::pin_bore, FoldKind::scale_hole,
                                  FoldKind::liner_hole, FoldKind::tang_hole, FoldKind::existing_hole})
        for (const test::FoldItem& round : test::fold_items(drawing, kind, false)) {
          ++left[{kind, round.thing->region, round.thing->index, round.radius_mm}];
          const FoldPlace place = drawing.map.to_handle(round.points[0]);
          REQUIRE(place.region == round.thing->region);
          const Vec2 at = kind == FoldKind::existing_hole ? design.tang.holes[round.thing->index].at_mm
                                                          : handle.pins[round.thing->index].at;
          CHECK(glm::distance(Vec2(place.x_mm, place.y_or_z_mm), at) < 1e-9);
        }
      const auto take = [&](FoldKind kind, FoldRegion face, std::size_t index, double diameter) {
        --left[{kind, face, index, diameter / 2}];
        ++holes;
      };
      for (const FoldRegion face : {FoldRegion::left_face, FoldRegion::right_face}) {
        const Which side = face == FoldRegion::left_face ? Which::left : Which::right;
        for (const PinLayout& pin : handle.pins) {
          take(FoldKind::pin, face, pin.pin, pin.diameter_mm);
          const double bore = design.pins[pin.pin].stock.bore_mm;
          if (bore > 0) take(FoldKind::pin_bore, face, pin.pin, bore);
          for (const HoleLayer& layer : pin.layers) {
            if (layer.kind == HoleLayer::Kind::tang)
              take(FoldKind::tang_hole, face, pin.pin, layer.diameter_mm);
            else if (layer.side == side)
              take(layer.kind == HoleLayer::Kind::scale ? FoldKind::scale_hole : FoldKind::liner_hole, face,
                   pin.pin, layer.diameter_mm);
          }
        }
        for (std::size_t i = 0; i < design.tang.holes.size(); ++i)
          take(FoldKind::existing_hole, face, i, design.tang.holes[i].diameter_mm);
      }
      for (const auto& [what, count] : left) CHECK(count == 0);
      for (const Which side : {Which::left, Which::right}) {
        std::size_t lines = 0;
        for (const JointLayout& joint : handle.side(side).joints) lines += joint.lines.size();
        CHECK(lines_of(drawing, FoldKind::joint, false, side).size() == lines);
        CHECK(lines_of(drawing, FoldKind::joint, true, side).size() == lines);
      }
    }
  }
  CHECK(holes > 2000);
}

TEST_CASE("outlines of the fold view are the handle's own, arc for arc") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    const FoldDrawing drawing = draw_fold(design, handle);
    for (const test::FoldItem& drawn : test::fold_items(drawing, FoldKind::finished_outline, false)) {
      const std::vector<Node>& own = handle.side(drawn.thing->side).finished.nodes();
      const std::vector<Node>& nodes = std::get<Stroke>(drawn.item->shape).nodes;
      REQUIRE(nodes.size() == own.size());
      for (std::size_t i = 0; i < own.size(); ++i) {
        const FoldPlace back = drawing.map.to_handle(nodes[i].at, drawn.thing->region);
        CHECK(together({back.x_mm, back.y_or_z_mm}, own[i].at));
        // The right face is drawn mirrored: its arcs turn the other way.
        CHECK(nodes[i].bulge == (drawn.thing->side == Which::left ? own[i].bulge : -own[i].bulge));
      }
    }
  }
}

TEST_CASE("a pin's band on the strip runs from surface to surface") {
  const Design design = block();
  const FoldDrawing drawing = draw_fold(design, lay_out(design));
  const auto bands = test::fold_items(drawing, FoldKind::pin, true);
  REQUIRE(bands.size() == design.pins.size());
  // 4 mm of steel and 9 mm on either side.
  const auto [low, high] = std::ranges::minmax(bands[0].points, {}, &Vec2::y);
  CHECK(high.y - low.y == Approx(22).epsilon(1e-9));
}

TEST_CASE("fold settings that make no drawing are refused") {
  const Design design = block();
  const Handle handle = lay_out(design);
  CHECK_THROWS_AS(draw_fold(design, handle, {.gap_mm = 0}), std::invalid_argument);
  CHECK_THROWS_AS(draw_fold(design, handle, {.deviation_mm = -1}), std::invalid_argument);
}
