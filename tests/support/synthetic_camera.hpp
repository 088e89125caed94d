// A camera whose place, direction and lens are known: what it must see is worked out without the room's code.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "haftwright/pictures/photo.hpp"
#include "haftwright/pictures/squaring.hpp"
#include "support/random.hpp"

namespace haftwright::test {

struct SyntheticCamera {
  int width_px = 4000;
  int height_px = 3000;
  double focal_px = 3000;
  Vec3 eye_mm{0, 0, 400};
  /// Axes of the picture in space: right, down, and the direction of view.
  Vec3 right{1, 0, 0};
  Vec3 down{0, -1, 0};
  Vec3 ahead{0, 0, -1};
  /// As of Brown: r' = r (1 + k r^2), r in half diagonals. Not the model that the room fits.
  double brown_k = 0;

  Vec2 centre() const { return Vec2{width_px, height_px} / 2.0; }

  Vec2 project(Vec3 mm) const {
    const Vec3 d = mm - eye_mm;
    const double z = glm::dot(d, ahead);
    const Vec2 flat{focal_px * glm::dot(d, right) / z, focal_px * glm::dot(d, down) / z};
    const double r = glm::length(flat) / glm::length(centre());
    return centre() + flat * (1 + brown_k * r * r);
  }
  Vec2 project(Vec2 mm, double height_mm = 0) const { return project(Vec3{mm, height_mm}); }

  /// Where the ray of a pixel meets the plane at a height.
  Vec2 plane_place(Vec2 px, double height_mm = 0) const {
    const double half = glm::length(centre());
    const Vec2 bowed = px - centre();
    Vec2 flat = bowed;
    for (int i = 0; i < 8 && brown_k != 0; ++i) {
      const double r = glm::length(flat) / half;
      flat = bowed / (1 + brown_k * r * r);
    }
    const Vec3 ray = right * (flat.x / focal_px) + down * (flat.y / focal_px) + ahead;
    const Vec3 at = eye_mm + ray * ((height_mm - eye_mm.z) / ray.z);
    return {at.x, at.y};
  }
};

/// Looks at about `target`, tilted by up to `tilt_deg`, turned any way round.
inline SyntheticCamera random_camera(Random& random, Vec2 target, double tilt_deg) {
  using std::numbers::pi;
  SyntheticCamera camera;
  const double distance = random.between(350, 500);
  const double tilt = random.between(0, tilt_deg) * pi / 180;
  const double round = random.between(0, 2 * pi);
  const double roll = random.between(0, 2 * pi);
  camera.focal_px = random.between(2900, 3400);
  camera.ahead = {-std::sin(tilt) * std::cos(round), -std::sin(tilt) * std::sin(round), -std::cos(tilt)};
  camera.eye_mm = Vec3{target, 0} - distance * camera.ahead;
  const Vec3 any = glm::normalize(glm::cross(camera.ahead, Vec3{std::cos(roll), std::sin(roll), 0.1}));
  camera.right = any;
  camera.down = glm::cross(camera.ahead, any);
  return camera;
}

/// The corners of a box, from the lower left one counter-clockwise.
inline std::vector<Vec2> corners_of(Vec2 low, Vec2 high) {
  return {low, {high.x, low.y}, high, {low.x, high.y}};
}

inline std::vector<Mark> marks_seen(const SyntheticCamera& camera, const std::vector<Vec2>& places) {
  std::vector<Mark> marks;
  for (const Vec2 mm : places) marks.push_back({camera.project(mm), mm});
  return marks;
}

/// A picture of a plane: `light_at` gives linear light 0 to 1 of red, green and blue at a place in
/// millimetres. Each pixel is the mean of `across` x `across` rays.
template <class LightAt>
Photo render(const SyntheticCamera& camera, double height_mm, int across, LightAt light_at) {
  Photo photo{camera.width_px, camera.height_px, {}};
  photo.rgb.reserve(static_cast<std::size_t>(camera.width_px) * static_cast<std::size_t>(camera.height_px) *
                    3);
  for (int y = 0; y < camera.height_px; ++y)
    for (int x = 0; x < camera.width_px; ++x) {
      Vec3 sum{0, 0, 0};
      for (int i = 0; i < across * across; ++i) {
        const Vec2 px{x + (i % across + 0.5) / across, y + (i / across + 0.5) / across};
        sum += light_at(camera.plane_place(px, height_mm));
      }
      sum /= static_cast<double>(across * across);
      for (const double light : {sum.x, sum.y, sum.z})
        photo.rgb.push_back(
            static_cast<std::uint8_t>(std::lround(255 * std::clamp(srgb_of_light(light), 0.0, 1.0))));
    }
  return photo;
}

}  // namespace haftwright::test
