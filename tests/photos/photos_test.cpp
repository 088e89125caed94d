// Offcuts on rendered photos whose true outline and camera are known: squared up, traced, put into a bin.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/photos/squared.hpp"
#include "haftwright/photos/traced.hpp"
#include "haftwright/pictures/warp.hpp"
#include "support/nearly.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

// As the upper face is looked at: no turn and no mirroring brings it onto itself, and one edge is an arc.
const std::vector<Node> kPiece{{{0, 0}}, {{78, 0}}, {{78, 22}, 0.25}, {{50, 34}}, {{0, 40}}};

double apart_mm(const Outline& a, const Outline& b) {
  double most = 0;
  for (const Vec2 p : polyline(a, 0.01)) most = std::max(most, b.nearest(p).distance_mm);
  for (const Vec2 p : polyline(b, 0.01)) most = std::max(most, a.nearest(p).distance_mm);
  return most;
}

std::vector<Node> moved(std::vector<Node> chain, Vec2 by) {
  for (Node& node : chain) node.at += by;
  return chain;
}

/// The camera stands over `target`, slightly slanted, the picture upright.
SyntheticCamera camera_over(Vec2 target, double height_mm = 420) {
  SyntheticCamera camera;
  camera.width_px = 1600;
  camera.height_px = 1200;
  camera.focal_px = 1600;
  camera.ahead = glm::normalize(Vec3{0.06, -0.04, -1});
  camera.eye_mm = Vec3{target, 0} - height_mm / -camera.ahead.z * camera.ahead;
  camera.right = glm::normalize(glm::cross(camera.ahead, Vec3{0.02, 1, 0}));
  camera.down = glm::cross(camera.ahead, camera.right);
  return camera;
}

PictureFacts facts_of(const SyntheticCamera& camera) {
  PictureFacts facts;
  facts.width_px = camera.width_px;
  facts.height_px = camera.height_px;
  facts.focal_px = camera.focal_px;
  return facts;
}

/// A plate of no thickness at a height over what `ground` shows: its sides are not rendered.
template <class Ground>
Photo photo_of(const SyntheticCamera& camera, const Outline& piece, double height_mm, Ground ground) {
  const Bounds box = piece.bounds();
  Photo below = render(camera, 0, 2, ground);
  const Photo over = render(camera, height_mm, 3, [&](Vec2 mm) {
    const bool on =
        mm.x > box.low.x && mm.x < box.high.x && mm.y > box.low.y && mm.y < box.high.y && piece.contains(mm);
    return on ? Vec3{1} : Vec3{0};
  });
  const Vec3 wood{0.3, 0.16, 0.07};
  for (std::size_t i = 0; i < below.rgb.size(); ++i) {
    const double share = light_of_srgb(over.rgb[i] / 255.0);
    const double light = light_of_srgb(below.rgb[i] / 255.0);
    below.rgb[i] = static_cast<std::uint8_t>(
        std::lround(255 * srgb_of_light(light + share * (wood[static_cast<int>(i % 3)] - light))));
  }
  return below;
}

Vec3 plain_ground(Vec2) {
  return {0.1, 0.25, 0.6};
}

}  // namespace

TEST_CASE("what is mirrored twice is what it was, and its outline turns the same way") {
  const std::vector<Node> once = shown(Face::lower, kPiece);
  CHECK(Outline(once).area_mm2() == nearly(Outline(kPiece).area_mm2()));
  CHECK(Outline(once).bounds().low.x == nearly(-Outline(kPiece).bounds().high.x));
  for (const Vec2 p : polyline(Outline(kPiece), 0.01))
    CHECK(Outline(once).nearest({-p.x, p.y}).distance_mm < 1e-9);
  CHECK(apart_mm(Outline(shown(Face::lower, once)), Outline(kPiece)) < 1e-9);
  CHECK(shown(Face::upper, kPiece) == kPiece);
  CHECK(shown(Face::lower, Vec2{3, 4}) == Vec2{-3, 4});
}

TEST_CASE("an offcut in the printed frame comes back within its bound, either face up") {
  const FrameDrawing frame = frame_drawing(FrameSize::a5);
  const Photo sheet = frame_photo(FrameSize::a5, 254);
  const double height_mm = 12;
  const SyntheticCamera camera = camera_over(frame.sheet_mm / 2.0);
  for (const Face face : {Face::upper, Face::lower}) {
    // In the sense of the picture, in the middle of the frame.
    const Vec2 corner = (frame.band_inner.low + frame.band_inner.high) / 2.0 - Vec2{39, 20};
    const Vec2 laid = face == Face::upper ? corner : corner + Vec2{78, 0};
    const std::vector<Node> seen = moved(shown(face, kPiece), laid);
    const Photo photo = photo_of(camera, Outline(seen), height_mm, [&](Vec2 mm) {
      if (mm.x < 0 || mm.y < 0 || mm.x >= frame.sheet_mm.x || mm.y >= frame.sheet_mm.y) return Vec3{0.2};
      const int x = std::min(sheet.width_px - 1, static_cast<int>(mm.x * 10));
      const int y = std::clamp(static_cast<int>((frame.sheet_mm.y - mm.y) * 10), 0, sheet.height_px - 1);
      return Vec3{0.03 + 0.8 * light_of_srgb(sheet.at(x, y)[0] / 255.0)};
    });
    TraceRequest request;
    request.scale = PrintedFrame{};
    request.face = face;
    request.face_above_marks_mm = height_mm;
    request.thickness_mm = height_mm;
    const TracedOffcut found = traced(photo, facts_of(camera), request);
    INFO("face " << static_cast<int>(face));
    CHECK(found.frame == FrameSize::a5);
    const double off = apart_mm(Outline(found.outline), Outline(kPiece));
    CAPTURE(off, found.bound_mm(), found.bound.total_mm());
    CHECK(off < 0.35);
    CHECK(off < found.bound_mm());
    CHECK(found.bound_mm() < 1.5);
    CHECK(found.quality == TraceQuality::clear);
    REQUIRE(found.residual_mm);
    CHECK(*found.residual_mm < 0.15);

    // The marks that are kept say the same of every place: a place of the wood is where it was.
    const Squaring squaring = squaring_of(found.photo, facts_of(camera));
    for (const Vec2 mm : polyline(Outline(kPiece), 0.5)) {
      const Vec2 in_picture = shown(face, mm) + laid;
      const Vec2 px = camera.project(in_picture, height_mm);
      CHECK(glm::distance(shown(face, squaring.to_mm(px)), mm) < found.bound_mm());
    }
    // So does the squared picture: wood inside, ground outside.
    const SquaredFace flat = squared(photo, facts_of(camera), found.photo, found.outline, 4, 4);
    const auto colour_at = [&](Vec2 mm) {
      const Vec2 px = warped_px_of(mm, flat.box_mm, flat.px_per_mm);
      return flat.photo.at(static_cast<int>(px.x), static_cast<int>(px.y));
    };
    for (const Vec2 inside : {Vec2{2, 2}, Vec2{76, 2}, Vec2{76, 20}, Vec2{2, 37}})
      CHECK(colour_at(inside)[2] < 110);
    for (const Vec2 outside : {Vec2{-3, 2}, Vec2{76, 33}, Vec2{81, 10}, Vec2{2, 43}})
      CHECK(colour_at(outside)[2] > 150);
  }
}

TEST_CASE(
    "marks that were typed give the outline in their own frame, or with its corner where it is wanted") {
  const SyntheticCamera camera = camera_over({40, 20});
  for (const Face face : {Face::upper, Face::lower}) {
    const Photo photo = photo_of(
        camera, Outline(moved(shown(face, kPiece), {face == Face::upper ? 0. : 78., 0})), 0, plain_ground);
    TypedMarks typed;
    for (const Vec2 mm : {Vec2{-20, -20}, Vec2{100, -20}, Vec2{100, 62}, Vec2{-20, 62}, Vec2{40, -18}}) {
      // Where it lies on the plane that is rendered, and in the frame of the offcut lying there.
      const Vec2 in_offcut = face == Face::upper ? mm : Vec2{78 - mm.x, mm.y};
      typed.marks.push_back({camera.project(mm), in_offcut});
    }
    TraceRequest request;
    request.scale = typed;
    request.face = face;
    request.lower_left_mm.reset();
    const TracedOffcut kept = traced(photo, facts_of(camera), request);
    INFO("face " << static_cast<int>(face));
    CHECK(apart_mm(Outline(kept.outline), Outline(kPiece)) < 0.25);
    CHECK(kept.photo.marks == typed.marks);

    request.lower_left_mm = Vec2{7, -3};
    const TracedOffcut laid = traced(photo, facts_of(camera), request);
    CHECK(Outline(laid.outline).bounds().low.x == nearly(7));
    CHECK(Outline(laid.outline).bounds().low.y == nearly(-3));
    const Vec2 by = laid.outline.front().at - kept.outline.front().at;
    for (std::size_t i = 0; i < laid.photo.marks.size(); ++i)
      CHECK(glm::distance(laid.photo.marks[i].at_mm, typed.marks[i].at_mm + by) < 1e-9);
    // A knot seen at a pixel lies at one place of the wood, whichever frame counts.
    const Squaring before = squaring_of(kept.photo, facts_of(camera));
    const Squaring after = squaring_of(laid.photo, facts_of(camera));
    for (const Vec2 px : {Vec2{700, 600}, Vec2{900, 500}, Vec2{820, 640}})
      CHECK(glm::distance(shown(face, before.to_mm(px)) + by, shown(face, after.to_mm(px))) < 1e-6);
  }
}

TEST_CASE("an offcut on a sheet of known size comes back within its bound") {
  const SyntheticCamera camera = camera_over({105, 70});
  const Photo photo = photo_of(camera, Outline(moved(kPiece, {60, 50})), 3, [](Vec2 mm) {
    return mm.x > 0 && mm.y > 0 && mm.x < 210 && mm.y < 148 ? Vec3{0.8, 0.8, 0.78} : Vec3{0.06};
  });
  TraceRequest request;
  request.scale = KnownSheet{148, 210};
  request.face_above_marks_mm = 3;
  const TracedOffcut found = traced(photo, facts_of(camera), request);
  const double off = apart_mm(Outline(found.outline), Outline(kPiece));
  CHECK(off < 0.5);
  CHECK(off < found.bound_mm());
  CHECK(found.bound.size_mm > 0.1);
  CHECK_FALSE(found.residual_mm);

  request.scale = KnownSheet{148, 155};
  CHECK_THROWS_WITH(traced(photo, facts_of(camera), request), Catch::Contains("Which side of the sheet"));
  request.scale = KnownSheet{148, -1};
  CHECK_THROWS_WITH(traced(photo, facts_of(camera), request), Catch::Contains("20 to 2000 mm"));
  request.scale = PrintedFrame{};
  CHECK_THROWS_WITH(traced(photo, facts_of(camera), request), Catch::Contains("No printed frame was found"));
  request.scale = PrintedFrame{120};
  CHECK_THROWS_WITH(traced(photo, facts_of(camera), request), Catch::Contains("90 to 110 mm"));
}

TEST_CASE("a camera that stands beside the offcut is told of, by how much of a side it may have seen") {
  SyntheticCamera camera = camera_over({160, 20});
  const Photo photo = photo_of(camera, Outline(kPiece), 0, plain_ground);
  TraceRequest request;
  request.scale = TypedMarks{{{camera.project(Vec2{-20, -20}), {-20, -20}},
                              {camera.project(Vec2{100, -20}), {100, -20}},
                              {camera.project(Vec2{100, 62}), {100, 62}},
                              {camera.project(Vec2{-20, 62}), {-20, 62}}}};
  request.thickness_mm = 20;
  request.camera_height_mm = 420;
  const TracedOffcut found = traced(photo, facts_of(camera), request);
  // The eye's foot lies about so far beyond the end at x = 78; a side 20 mm deep shows by that times 20 /
  // 440.
  const double beside = camera.eye_mm.x - 78;
  REQUIRE(beside > 30);
  CHECK(found.side_seen_mm == nearly(beside * 20 / 440).margin(0.3));
  CHECK_THAT(found.advice, Catch::Contains("did not stand over the offcut"));
}

TEST_CASE("marks that make no rectangle, and too few, are refused in a sentence") {
  OffcutPhoto photo;
  photo.marks = {{{10, 10}, {0, 40}}, {{900, 12}, {80, 40}}, {{905, 500}, {0, 0}}, {{8, 505}, {80, 0}}};
  PictureFacts facts;
  facts.width_px = 1000;
  facts.height_px = 600;
  CHECK_THROWS_WITH(squaring_of(photo, facts), Catch::Contains("make no rectangle"));
  std::swap(photo.marks[2].at_mm, photo.marks[3].at_mm);
  CHECK_NOTHROW(squaring_of(photo, facts));
  // The lower face's are those of the upper one mirrored, so the same marks are refused for it.
  photo.face = Face::lower;
  CHECK_THROWS_WITH(squaring_of(photo, facts), Catch::Contains("mirror"));
  photo.marks.pop_back();
  CHECK_THROWS_WITH(squaring_of(photo, facts), Catch::Contains("Four marks or more"));
}

TEST_CASE("bounds in words name every cause that counts") {
  CHECK(bound_words({0.2, 0.15, 0.1, 0.001}) == "0.45 mm: marks 0.20, lens 0.15, height 0.10");
  CHECK(bound_words({}) == "0.00 mm");
  CHECK(bound_words({0.254, 0, 0, 0}, LengthUnit::inch) == "0.010 in: marks 0.010");
}

TEST_CASE("a lens whose bow a photo states is straightened by it") {
  SyntheticCamera camera = camera_over({40, 20});
  Lens lens{-0.06, camera.centre(), glm::length(camera.centre())};
  OffcutPhoto photo;
  for (const Vec2 mm : {Vec2{-20, -20}, Vec2{100, -20}, Vec2{100, 62}, Vec2{-20, 62}})
    photo.marks.push_back({lens.bowed(camera.project(mm)), mm});
  const auto off_mm = [&] {
    const Squaring squaring = squaring_of(photo, facts_of(camera));
    double most = 0;
    for (const Vec2 mm : {Vec2{40, 20}, Vec2{0, 60}, Vec2{95, 10}})
      most = std::max(most, glm::distance(squaring.to_mm(lens.bowed(camera.project(mm))), mm));
    return most;
  };
  // Four marks say nothing of the lens.
  CHECK(off_mm() > 0.05);
  photo.lens_k1 = lens.k1;
  CHECK(off_mm() < 1e-6);
  CHECK(squaring_of(photo, facts_of(camera)).lens_is_found());
  photo.lens_k1 = 0.7;
  CHECK_THROWS_AS(squaring_of(photo, facts_of(camera)), std::invalid_argument);
}
