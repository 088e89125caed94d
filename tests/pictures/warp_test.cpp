// Pictures made square.
#include <catch2/catch.hpp>

#include "haftwright/pictures/warp.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// Smooth light over the plane, its waves some millimetres long.
Vec3 waves(Vec2 mm) {
  return Vec3{0.5 + 0.4 * std::sin(mm.x / 5), 0.5 + 0.4 * std::sin(mm.y / 4 + 1),
              0.5 + 0.4 * std::sin((mm.x + mm.y) / 7)};
}

SyntheticCamera small_camera(std::uint64_t seed) {
  Random random(seed);
  SyntheticCamera camera = random_camera(random, {40, 30}, 30);
  camera.width_px = 800;
  camera.height_px = 600;
  camera.focal_px = 1400;
  return camera;
}

double largest_error(const Photo& warped, const Bounds& box, double px_per_mm) {
  double most = 0;
  for (int y = 0; y < warped.height_px; ++y)
    for (int x = 0; x < warped.width_px; ++x) {
      const Vec3 light = waves(warped_mm_of({x + 0.5, y + 0.5}, box, px_per_mm));
      const auto rgb = warped.at(x, y);
      for (int c = 0; c < 3; ++c)
        most = std::max(most, std::abs(light_of_srgb(rgb[static_cast<std::size_t>(c)] / 255.0) - light[c]));
    }
  return most;
}

}  // namespace

TEST_CASE("a warped picture shows the plane where it is") {
  for (const std::uint64_t seed : {1u, 2u, 3u}) {
    const SyntheticCamera camera = small_camera(seed);
    const Photo photo = render(camera, 0, 2, waves);
    const Squaring squaring = square_up({.marks = marks_seen(camera, corners_of({0, 0}, {80, 60}))},
                                        camera.width_px, camera.height_px);
    const Bounds box{{5, 4}, {75, 56}};
    for (const double px_per_mm : {1.0, 4.0, 9.0}) {
      const Photo warped = warp(photo, squaring, box, px_per_mm);
      CHECK(warped.width_px == static_cast<int>(70 * px_per_mm));
      CHECK(warped.height_px == static_cast<int>(52 * px_per_mm));
      // Half a pixel off would be 0.02 at 4 pixels a millimetre, a whole one 0.1 at 1.
      CHECK(largest_error(warped, box, px_per_mm) < (px_per_mm < 2 ? 0.04 : 0.012));
    }
  }
}

TEST_CASE("any number of threads gives the same bits") {
  const SyntheticCamera camera = small_camera(4);
  const Photo photo = render(camera, 0, 1, waves);
  const Squaring squaring = square_up({.marks = marks_seen(camera, corners_of({0, 0}, {80, 60}))},
                                      camera.width_px, camera.height_px);
  for (const double px_per_mm : {0.7, 6.0}) {
    const Photo one = warp(photo, squaring, {{-30, -30}, {110, 90}}, px_per_mm, {.threads = 1});
    for (const unsigned threads : {2u, 3u, 8u})
      CHECK(warp(photo, squaring, {{-30, -30}, {110, 90}}, px_per_mm, {.threads = threads}) == one);
  }
}

TEST_CASE("fine stripes become grey of half the light, not of half the value") {
  // Black and white pixels in turn, reduced eight times: 0.5 of the light is stored as 188.
  Photo photo{512, 512, std::vector<std::uint8_t>(512 * 512 * 3)};
  for (std::size_t i = 0; i < photo.rgb.size(); ++i) photo.rgb[i] = (i / 3) % 2 == 0 ? 255 : 0;
  const Squaring squaring = from_dpi(254, 512, 512);
  const Photo warped = warp(photo, squaring, {{5, 5}, {45, 45}}, 1.25);
  for (const std::uint8_t value : warped.rgb) CHECK(std::abs(value - 188) <= 1);
}

TEST_CASE("a scan at its own resolution comes out as it is, white beyond") {
  Random random(5);
  Photo photo{60, 40, std::vector<std::uint8_t>(60 * 40 * 3)};
  for (auto& value : photo.rgb) value = static_cast<std::uint8_t>(random.index(256));
  const Squaring squaring = from_dpi(254, 60, 40);
  CHECK(warp(photo, squaring, {{0, 0}, {6, 4}}, 10) == photo);
  const Photo wider = warp(photo, squaring, {{-1, -1}, {7, 5}}, 10);
  CHECK(wider.at(0, 0) == std::array<std::uint8_t, 3>{255, 255, 255});
  CHECK(wider.at(79, 59) == std::array<std::uint8_t, 3>{255, 255, 255});
  CHECK(wider.at(10, 10) == photo.at(0, 0));
}

TEST_CASE("what can't be warped is refused") {
  const Photo photo{2, 2, std::vector<std::uint8_t>(12)};
  const Squaring squaring = from_dpi(254, 2, 2);
  CHECK_THROWS_AS(warp(photo, squaring, {{0, 0}, {10'000, 10'000}}, 10), PictureError);
  CHECK_THROWS_AS(warp(photo, squaring, {{0, 0}, {0, 1}}, 10), std::invalid_argument);
  CHECK_THROWS_AS(warp(photo, squaring, {{0, 0}, {1, 1}}, 0), std::invalid_argument);
  CHECK_THROWS_AS(warp(photo, from_dpi(254, 3, 2), {{0, 0}, {1, 1}}, 1), std::invalid_argument);
}
