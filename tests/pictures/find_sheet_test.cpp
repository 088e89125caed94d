// Sheets and cards found by themselves.
#include <catch2/catch.hpp>

#include "haftwright/pictures/find_sheet.hpp"
#include "haftwright/pictures/squaring.hpp"
#include "support/seeds.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

struct Scene {
  Vec2 size_mm{0, 0};
  double corner_radius_mm = 0;
  Vec3 sheet{0.8, 0.8, 0.78};
  Vec3 bench{0.15, 0.1, 0.07};
  double limit_px = 0.4;
  bool block = false;  ///< a brown one that lies on the sheet, across one side
};

Vec3 light_of(const Scene& scene, Vec2 mm) {
  // Light from one side, and figure in the bench.
  const double shade = 0.6 + 0.4 * std::clamp((mm.y + 100) / 400, 0.0, 1.0);
  const Vec2 off = glm::abs(mm - scene.size_mm / 2.0) - (scene.size_mm / 2.0 - scene.corner_radius_mm);
  const bool inside = glm::length(glm::max(off, Vec2{0, 0})) + std::min(std::max(off.x, off.y), 0.0) <
                      std::max(scene.corner_radius_mm, 1e-9);
  if (scene.block && std::abs(mm.x - 0.4 * scene.size_mm.x) < 0.15 * scene.size_mm.x &&
      mm.y < 0.3 * scene.size_mm.y && mm.y > -10)
    return shade * Vec3{0.3, 0.16, 0.08};
  if (inside) return shade * scene.sheet;
  return shade * scene.bench * (1 + 0.2 * std::sin(mm.x * 0.9 + 2 * std::sin(mm.y * 0.05)));
}

SyntheticCamera camera_for(Random& random, const Scene& scene) {
  SyntheticCamera camera = random_camera(random, scene.size_mm / 2.0, 20);
  camera.width_px = 1000;
  camera.height_px = 750;
  const double distance = glm::length(camera.eye_mm - Vec3{scene.size_mm / 2.0, 0});
  camera.focal_px = random.between(0.5, 0.75) * 750 * distance / glm::length(scene.size_mm);
  return camera;
}

}  // namespace

TEST_CASE("sheets and cards are found to a part of a pixel") {
  const Scene scenes[] = {
      {.size_mm = {210, 297}},                               // A4 on a dark bench
      {.size_mm = {85.6, 53.98}, .corner_radius_mm = 3.18},  // a card of ISO/IEC 7810
      {.size_mm = {210, 148},
       .sheet = {0.03, 0.1, 0.2},
       .bench = {0.5, 0.4, 0.3},
       .limit_px = 0.8},  // blue card on a light bench, whose figure runs along a side
      {.size_mm = {210, 297}, .block = true},
  };
  Random random(41);
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_SHEETS", {1, 4, 60}, 0);
  for (const Scene& scene : scenes)
    for (std::uint64_t i = 0; i < seeds.count; ++i) {
      const SyntheticCamera camera = camera_for(random, scene);
      const Photo photo = render(camera, 0, 3, [&](Vec2 mm) { return light_of(scene, mm); });
      INFO("scene " << (&scene - scenes) << ", case " << i);
      const auto found = find_sheet(photo);
      REQUIRE(found);
      const auto corners = corners_of({0, 0}, scene.size_mm);
      for (const Vec2 corner : corners) {
        double nearest = 1e9;
        for (const Vec2 px : found->corners_px)
          nearest = std::min(nearest, glm::distance(px, camera.project(corner)));
        CHECK(nearest < scene.limit_px);
      }
      // Clockwise as seen, from the upper left.
      const auto& px = found->corners_px;
      for (std::size_t k = 0; k < 4; ++k) {
        CHECK(cross(px[(k + 1) % 4] - px[k], px[(k + 2) % 4] - px[(k + 1) % 4]) > 0);
        CHECK(px[0].x + px[0].y <= px[k].x + px[k].y);
      }
      CHECK(found->sides_seen > 0.4);
    }
}

TEST_CASE("nothing is found where no sheet lies") {
  Random random(42);
  const SyntheticCamera camera = camera_for(random, {.size_mm = {200, 200}});
  CHECK_FALSE(find_sheet(render(camera, 0, 1, [](Vec2) { return Vec3{0.4}; })));
  // A round plate.
  CHECK_FALSE(find_sheet(render(camera, 0, 2, [](Vec2 mm) {
    return Vec3{glm::distance(mm, Vec2{100, 100}) < 90 ? 0.8 : 0.1};
  })));
  // A three-cornered offcut.
  CHECK_FALSE(find_sheet(render(
      camera, 0, 2, [](Vec2 mm) { return Vec3{mm.x > 0 && mm.y > 0 && mm.x + mm.y < 190 ? 0.8 : 0.1}; })));
  // A sheet that the picture cuts off.
  CHECK_FALSE(
      find_sheet(render(camera, 0, 2, [](Vec2 mm) { return Vec3{mm.x > 60 && mm.y > 70 ? 0.8 : 0.1}; })));
  Photo noise{300, 200, std::vector<std::uint8_t>(300 * 200 * 3)};
  for (auto& value : noise.rgb) value = static_cast<std::uint8_t>(random.index(256));
  CHECK_FALSE(find_sheet(noise));
}
