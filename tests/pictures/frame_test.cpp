// The printed frame: drawn, photographed, found.
#include <catch2/catch.hpp>
#include <cstdlib>

#include "haftwright/pictures/frame.hpp"
#include "support/seeds.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// The sheet as a plane to be photographed, on a mid-grey bench, with a brown block lying in it and light
/// that falls off to one side.
Vec3 sheet_light(const Photo& sheet, double px_per_mm, Vec2 size_mm, Vec2 mm, bool block) {
  const double shade = 0.45 + 0.5 * (mm.x + 80) / (size_mm.x + 160);
  if (mm.x < 0 || mm.y < 0 || mm.x >= size_mm.x || mm.y >= size_mm.y) return shade * Vec3{0.2, 0.18, 0.16};
  const Vec2 off = mm - size_mm / 2.0;
  if (block && std::abs(off.x + 0.3 * off.y) < 30 && std::abs(off.y) < 25)
    return shade * Vec3{0.25, 0.12, 0.05};
  const auto x = std::min(sheet.width_px - 1, static_cast<int>(mm.x * px_per_mm));
  const auto y = std::clamp(static_cast<int>((size_mm.y - mm.y) * px_per_mm), 0, sheet.height_px - 1);
  return Vec3{shade * (0.03 + 0.85 * light_of_srgb(sheet.at(x, y)[0] / 255.0))};
}

SyntheticCamera camera_over(Random& random, Vec2 size_mm) {
  SyntheticCamera camera = random_camera(random, size_mm / 2.0, 20);
  camera.width_px = 1280;
  camera.height_px = 960;
  const double distance = glm::length(camera.eye_mm - Vec3{size_mm / 2.0, 0});
  camera.focal_px = 0.82 * 960 * distance / glm::length(size_mm);
  return camera;
}

}  // namespace

TEST_CASE("a photographed frame is found, whatever way it lies") {
  Random random(31);
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_FRAMES", {1, 2, 40}, 0);
  for (const FrameSize size : {FrameSize::a5, FrameSize::a4, FrameSize::a3, FrameSize::letter}) {
    const FrameDrawing frame = frame_drawing(size);
    if (std::getenv("HAFTWRIGHT_SHORT") && (size == FrameSize::a3 || size == FrameSize::a4)) continue;
    const Photo sheet = frame_photo(size, 254);
    for (std::uint64_t i = 0; i < seeds.count; ++i) {
      SyntheticCamera camera = camera_over(random, frame.sheet_mm);
      camera.brown_k = random.between(-0.01, 0.01);
      const Photo photo =
          render(camera, 0, 2, [&](Vec2 mm) { return sheet_light(sheet, 10, frame.sheet_mm, mm, true); });
      INFO("size " << static_cast<int>(size) << ", case " << i);
      const auto found = find_frame(photo);
      REQUIRE(found);
      CHECK(found->size == size);
      CHECK(found->marks.size() >= frame.dots.size() * 9 / 10);
      double most = 0;
      for (const Mark& mark : found->marks)
        most = std::max(most, glm::distance(mark.at_px, camera.project(mark.at_mm)));
      CHECK(most < 0.3);
      // Squared up with them, lens and all.
      const Squaring squaring =
          square_up({.marks = found->marks, .mark_error_px = 0.3}, camera.width_px, camera.height_px);
      CHECK(squaring.lens_is_found());
      for (int k = 0; k < 30; ++k) {
        const Vec2 mm =
            frame.band_inner.low + frame.band_inner.size() * Vec2{random.between(0, 1), random.between(0, 1)};
        const double off = glm::distance(squaring.to_mm(camera.project(mm)), mm);
        CHECK(off < 0.1);
        CHECK(off <= squaring.bound_mm(mm));
      }
    }
  }
}

TEST_CASE("a frame printed at another scale is used at its measured size") {
  const FrameDrawing frame = frame_drawing(FrameSize::a5);
  const Photo sheet = frame_photo(FrameSize::a5, 254);
  const auto found = find_frame(sheet, 98);
  REQUIRE(found);
  for (const Mark& mark : found->marks) {
    const bool known = std::any_of(frame.dots.begin(), frame.dots.end(),
                                   [&](Vec2 dot) { return glm::distance(0.98 * dot, mark.at_mm) < 1e-9; });
    CHECK(known);
  }
  CHECK_THROWS_AS(find_frame(sheet, 50), std::invalid_argument);
}

TEST_CASE("no frame is found where there is none") {
  Random random(32);
  // Dark windows without dots, noise, an even picture, a chequerboard.
  SyntheticCamera camera = camera_over(random, {200, 200});
  CHECK_FALSE(find_frame(render(camera, 0, 1, [](Vec2 mm) {
    const Vec2 off = glm::abs(mm - Vec2{100, 100});
    const double most = std::max(off.x, off.y);
    return Vec3{most < 90 && most > 78 ? 0.05 : 0.7};
  })));
  CHECK_FALSE(find_frame(render(camera, 0, 1, [](Vec2) { return Vec3{0.5}; })));
  CHECK_FALSE(find_frame(render(camera, 0, 1, [](Vec2 mm) {
    return Vec3{(static_cast<int>(std::floor(mm.x / 10)) + static_cast<int>(std::floor(mm.y / 10))) % 2 == 0
                    ? 0.1
                    : 0.8};
  })));
  Photo noise{400, 300, std::vector<std::uint8_t>(400 * 300 * 3)};
  for (auto& value : noise.rgb) value = static_cast<std::uint8_t>(random.index(256));
  CHECK_FALSE(find_frame(noise));
}

TEST_CASE("the frame's drawing is at true size") {
  for (const FrameSize size : {FrameSize::a5, FrameSize::a4, FrameSize::a3, FrameSize::letter}) {
    const FrameDrawing frame = frame_drawing(size);
    CHECK(glm::distance(frame.line_from, frame.line_to) == Approx(100).margin(1e-12));
    CHECK(frame.gaps.size() == 2);
    CHECK(frame.dots.size() >= 30);
    CHECK(frame.band_outer.low.x >= 12);
    CHECK(frame.line_from.y >= 8);
    const Photo photo = frame_photo(size, 254);
    CHECK(photo.width_px == std::lround(frame.sheet_mm.x * 10));
    for (const Vec2 dot : frame.dots)
      CHECK(photo.at(static_cast<int>(dot.x * 10), static_cast<int>((frame.sheet_mm.y - dot.y) * 10))[0] ==
            255);
    for (const Vec2 gap : frame.gaps)
      CHECK(photo.at(static_cast<int>(gap.x * 10), static_cast<int>((frame.sheet_mm.y - gap.y) * 10))[0] ==
            0);
    const std::string svg = frame_svg(size);
    std::size_t circles = 0;
    for (std::size_t at = svg.find("<circle"); at != std::string::npos; at = svg.find("<circle", at + 1))
      ++circles;
    CHECK(circles == frame.dots.size());
    CHECK(svg.find("mm\" height=\"") != std::string::npos);
  }
  CHECK_THROWS_AS(frame_photo(FrameSize::a4, 20), std::invalid_argument);
}

TEST_CASE("the frame's PDF is one page of its size, and every place in its table is that of an object") {
  const std::string pdf = frame_pdf(FrameSize::letter);
  CHECK_THAT(pdf, Catch::StartsWith("%PDF-1."));
  // 8.5 x 11 in, 72 points an inch.
  CHECK_THAT(pdf, Catch::Contains("/MediaBox [0 0 612 792]"));
  const std::size_t table = std::stoul(pdf.substr(pdf.rfind("startxref") + 10));
  REQUIRE(pdf.compare(table, 5, "xref\n") == 0);
  const std::size_t first = pdf.find('\n', table + 5) + 1;
  const std::size_t count = std::stoul(pdf.substr(table + 7));
  REQUIRE(count == 6);
  for (std::size_t i = 1; i < count; ++i) {
    const std::string head = std::to_string(i) + " 0 obj\n";
    CHECK(pdf.compare(std::stoul(pdf.substr(first + 20 * i, 10)), head.size(), head) == 0);
  }
  const std::size_t stream = pdf.find("stream\n") + 7;
  CHECK(pdf.compare(stream + std::stoul(pdf.substr(pdf.find("/Length") + 8)), 9, "endstream") == 0);
}
