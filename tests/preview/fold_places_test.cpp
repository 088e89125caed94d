// Places to measure between, and where measured distances are drawn: both folds, both sides.
#include "haftwright/preview/fold_places.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "preview/fold_items.hpp"
#include "support/nearly.hpp"
#include "support/random.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr FoldAbout kFolds[] = {FoldAbout::spine, FoldAbout::belly};

Design starter() {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  design.tang.holes = {{"old", {20, 1}, 3}};
  design.tang.cutouts = {{{{70, -3}, 0}, {{76, -3}, 0}, {{76, 3}, 0}, {{70, 3}, 0}}};
  return design;
}

std::size_t count(const std::vector<FoldPoint>& points, FoldPointKind kind, FoldRegion region) {
  return static_cast<std::size_t>(std::count_if(points.begin(), points.end(), [&](const FoldPoint& p) {
    return p.kind == kind && p.place.region == region;
  }));
}

}  // namespace

TEST_CASE("points to measure from lie where the drawing shows them, and map back") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    for (const FoldAbout about : kFolds) {
      const FoldMap map(handle, about, 4);
      for (const FoldPoint& point : fold_points(design, handle, map)) {
        INFO("seed " << seed << ", " << point.name);
        const FoldPlace back = map.to_handle(point.at);
        REQUIRE(back.region == point.place.region);
        REQUIRE(back.x_mm == Approx(point.place.x_mm).margin(1e-9));
        REQUIRE(back.y_or_z_mm == Approx(point.place.y_or_z_mm).margin(1e-9));
      }
    }
  }
}

TEST_CASE("every hole, line end and node is offered on both sides") {
  const Design design = starter();
  const Handle handle = lay_out(design);
  std::size_t lines = 0;
  for (const JointLayout& joint : handle.left.joints) lines += joint.lines.size();
  REQUIRE(lines >= 2);
  for (const FoldAbout about : kFolds) {
    const FoldMap map(handle, about, 4);
    const std::vector<FoldPoint> points = fold_points(design, handle, map);
    for (const FoldRegion face : {FoldRegion::left_face, FoldRegion::right_face}) {
      CHECK(count(points, FoldPointKind::hole, face) == design.pins.size() + 1);
      CHECK(count(points, FoldPointKind::joint_end, face) == 2 * lines);
      CHECK(count(points, FoldPointKind::front_end, face) == 2);
      CHECK(count(points, FoldPointKind::node, face) == design.tang.outline.size() + 4);
    }
    // The strip shows the ends at its own edge only, of both sides.
    CHECK(count(points, FoldPointKind::joint_end, FoldRegion::edge_strip) == 2 * lines);
    CHECK(count(points, FoldPointKind::front_end, FoldRegion::edge_strip) == 2);
    for (const FoldPoint& point : points)
      if (point.place.region == FoldRegion::edge_strip)
        CHECK(point.name.ends_with(about == FoldAbout::spine ? "spine" : "belly"));
  }
}

TEST_CASE("line ends on the strip are where the drawn lines end") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    for (const FoldAbout about : kFolds) {
      const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
      const std::vector<FoldPoint> points = fold_points(design, handle, drawing.map);
      std::vector<test::FoldItem> lines = test::fold_items(drawing, FoldKind::joint, false);
      const std::vector<test::FoldItem> on_strip = test::fold_items(drawing, FoldKind::joint, true);
      lines.insert(lines.end(), on_strip.begin(), on_strip.end());
      for (const test::FoldItem& line : lines) {
        const FoldPoint* near = nearest_point(points, line.points.back(), 1e-6);
        INFO("seed " << seed);
        REQUIRE(near);
        CHECK(near->kind == FoldPointKind::joint_end);
      }
    }
  }
}

TEST_CASE("the nearest point is within reach or none") {
  const std::vector<FoldPoint> points{
      {.at = {0, 0}, .name = "a"}, {.at = {4, 0}, .name = "b"}, {.at = {4, 0}, .name = "c"}};
  CHECK(nearest_point(points, {1, 0}, 1)->name == "a");
  CHECK(nearest_point(points, {1.1, 0}, 1) == nullptr);
  CHECK(nearest_point(points, {3.5, 0}, 9)->name == "b");
  CHECK(nearest_point(points, {3.5, 0}, 0.4) == nullptr);
  CHECK(nearest_point({}, {0, 0}, 100) == nullptr);
}

TEST_CASE("spans are true within a region and say no more than they know between regions") {
  test::Random random(3);
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Handle handle = lay_out(test::random_design(seed));
    for (const FoldAbout about : kFolds) {
      const FoldMap map(handle, about, 4);
      const auto at = [&](FoldRegion region) {
        const Which side = region == FoldRegion::right_face ? Which::right : Which::left;
        const Bounds& box = handle.side(side).finished.bounds();
        const double half = handle.tang_thickness_mm(0) / 2;
        return FoldPlace{region, random.between(box.low.x, box.high.x),
                         region == FoldRegion::edge_strip ? random.between(-half, half)
                                                          : random.between(box.low.y, box.high.y)};
      };
      constexpr FoldRegion kRegions[] = {FoldRegion::left_face, FoldRegion::edge_strip,
                                         FoldRegion::right_face};
      for (const FoldRegion from : kRegions)
        for (const FoldRegion to : kRegions) {
          const FoldPlace a = at(from);
          const FoldPlace b = at(to);
          const FoldSpan span = span_between(map, map.to_drawing(a), map.to_drawing(b));
          CHECK(span.along_mm == Approx(b.x_mm - a.x_mm).margin(1e-9));
          const bool comparable = (from == FoldRegion::edge_strip) == (to == FoldRegion::edge_strip);
          REQUIRE(span.across_mm.has_value() == comparable);
          if (comparable) CHECK(*span.across_mm == Approx(b.y_or_z_mm - a.y_or_z_mm).margin(1e-9));
          REQUIRE(span.distance_mm.has_value() == (from == to));
          if (from == to)
            CHECK(*span.distance_mm == test::nearly(std::hypot(b.x_mm - a.x_mm, b.y_or_z_mm - a.y_or_z_mm)));
        }
    }
  }
}

TEST_CASE("a place shows on the face of its side, in the steel on both") {
  const Handle handle = lay_out(starter());
  const auto regions = [&](double z) {
    std::vector<FoldRegion> found;
    for (const FoldPlace& place : shown_places(handle, {50, 3, z})) {
      CHECK(place.x_mm == 50);
      CHECK(place.y_or_z_mm == 3);
      found.push_back(place.region);
    }
    return found;
  };
  CHECK(regions(3) == std::vector{FoldRegion::left_face});
  CHECK(regions(-3) == std::vector{FoldRegion::right_face});
  CHECK(regions(0) == std::vector{FoldRegion::left_face, FoldRegion::right_face});
  CHECK(regions(2) == std::vector{FoldRegion::left_face});  // the tang's own face
  CHECK(regions(1.9).size() == 2);
}

TEST_CASE("a line shows where both its ends do; from side to side on the strip of its own edge") {
  const Handle handle = lay_out(starter());
  for (const FoldAbout about : kFolds) {
    const auto left = shown_stretches(handle, about, {50, 3, 4}, {52, 1, 5});
    REQUIRE(left.size() == 1);
    CHECK(left[0].from.region == FoldRegion::left_face);
    CHECK(left[0].to.x_mm == 52);
    CHECK(shown_stretches(handle, about, {50, 3, -4}, {52, 1, -5})[0].to.region == FoldRegion::right_face);
    CHECK(shown_stretches(handle, about, {50, 3, 0}, {52, 1, 0}).size() == 2);
    for (const double y : {11.0, -11.0}) {
      const auto over = shown_stretches(handle, about, {50, y, 6}, {50.3, y, -6});
      const bool seen = (y > 0) == (about == FoldAbout::spine);
      REQUIRE(over.size() == (seen ? 1 : 0));
      if (!seen) continue;
      CHECK(over[0].from.region == FoldRegion::edge_strip);
      CHECK(over[0].from.y_or_z_mm == 6);
      CHECK(over[0].to.x_mm == 50.3);
      CHECK(over[0].to.y_or_z_mm == -6);
    }
  }
}

TEST_CASE("the strip shows the holes of every layer and the cutouts, each across what it goes through") {
  const Design design = starter();
  const Handle handle = lay_out(design);
  for (const FoldAbout about : kFolds) {
    const FoldDrawing drawing = draw_fold(design, handle, {.about = about});
    const auto bands = [&](FoldKind kind) { return test::fold_items(drawing, kind, true); };
    CHECK(bands(FoldKind::scale_hole).size() == 2 * design.pins.size());
    CHECK(bands(FoldKind::liner_hole).size() == 2 * design.pins.size() * design.left.liners.size());
    CHECK(bands(FoldKind::tang_hole).size() == design.pins.size());
    REQUIRE(bands(FoldKind::existing_hole).size() == 1);
    REQUIRE(bands(FoldKind::cutout).size() == 1);
    const Bounds cutout = bounds_of(Drawing{{*bands(FoldKind::cutout)[0].item}}).value();
    CHECK(cutout.low.x == test::nearly(70));
    CHECK(cutout.high.x == test::nearly(76));
    CHECK(cutout.high.y - cutout.low.y == test::nearly(4));
    CHECK(drawing.map.to_handle((cutout.low + cutout.high) * 0.5).y_or_z_mm == Approx(0).margin(1e-9));
  }
}
