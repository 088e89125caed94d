#include "ground.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "edge_search.hpp"
#include "light.hpp"
#include "median.hpp"
#include "slow_light.hpp"

namespace haftwright::pictures {
namespace {

// The rim that the ground is taken from, as a share of the picture's shorter side.
constexpr double kRim = 0.03;
// How dark a shadow may be beside the lit ground, and how light a gleam.
constexpr double kDarkest = 0.35;
constexpr double kLightest = 1.25;
// What a halving of the light counts, in steps of CIELAB.
constexpr double kStepsAHalving = 4;
// Rounds of leaving out what is not ground, and from which distance on it is not.
constexpr int kRounds = 4;
constexpr double kFarOff = 12;

double cube_root_part(double t) {
  constexpr double delta = 6.0 / 29;
  return t > delta * delta * delta ? std::cbrt(t) : t / (3 * delta * delta) + 4.0 / 29;
}

Vec3 light_at(const Photo& photo, std::size_t pixel) {
  const auto& light = light_table();
  const std::uint8_t* rgb = photo.rgb.data() + 3 * pixel;
  return {light[rgb[0]], light[rgb[1]], light[rgb[2]]};
}

/// Steps of CIELAB between a colour and the ground, as dark or light as makes them most alike.
double distance_from(Vec3 colour, Vec3 ground) {
  constexpr double least = 1e-4;
  const double share =
      (glm::dot(colour, kBrightnessWeights) + least) / (glm::dot(ground, kBrightnessWeights) + least);
  const double lit = std::clamp(share, kDarkest, kLightest);
  return glm::length(lab_of(colour) - lab_of(ground * lit)) + kStepsAHalving * std::abs(std::log2(lit));
}

}  // namespace

Vec3 lab_of(Vec3 light) {
  // IEC 61966-2-1:1999, to XYZ over that of white.
  const double x = (0.4124 * light.x + 0.3576 * light.y + 0.1805 * light.z) / 0.9505;
  const double y = 0.2126 * light.x + 0.7152 * light.y + 0.0722 * light.z;
  const double z = (0.0193 * light.x + 0.1192 * light.y + 0.9505 * light.z) / 1.0890;
  const double fx = cube_root_part(x);
  const double fy = cube_root_part(y);
  const double fz = cube_root_part(z);
  return {116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

Unlike unlike_ground(const Photo& photo) {
  const int w = photo.width_px;
  const int h = photo.height_px;
  const int rim = std::max(2, static_cast<int>(kRim * std::min(w, h)));
  Mask ground(w, h);
  std::vector<double> rim_light[3];
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      if (std::min({x, y, w - 1 - x, h - 1 - y}) >= rim) continue;
      const Vec3 colour = light_at(photo, ground.index(x, y));
      for (int c = 0; c < 3; ++c) rim_light[c].push_back(colour[c]);
    }
  const Vec3 first{median(rim_light[0]), median(rim_light[1]), median(rim_light[2])};
  Unlike out{Plane(w, h), 0};
  for (std::size_t i = 0; i < out.distance.values.size(); ++i)
    out.distance.values[i] = static_cast<float>(distance_from(light_at(photo, i), first));
  for (int round = 0; round < kRounds; ++round) {
    for (std::size_t i = 0; i < ground.values.size(); ++i)
      ground.values[i] = out.distance.values[i] < kFarOff;
    const auto slow = slow_light(photo, &ground);
    if (!slow) break;
    for (int y = 0; y < h; ++y)
      for (int x = 0; x < w; ++x) {
        const std::size_t i = ground.index(x, y);
        out.distance.values[i] =
            static_cast<float>(distance_from(light_at(photo, i), slow->colour * slow->at(x + 0.5, y + 0.5)));
      }
  }
  std::vector<float> own;
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x)
      if (std::min({x, y, w - 1 - x, h - 1 - y}) < rim && out.distance(x, y) < kFarOff)
        own.push_back(out.distance(x, y));
  if (!own.empty()) {
    const auto place = own.begin() + static_cast<std::ptrdiff_t>(own.size() * 98 / 100);
    std::nth_element(own.begin(), place, own.end());
    out.ground_noise = double{*place};
  }
  return out;
}

}  // namespace haftwright::pictures
