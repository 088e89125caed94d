#include "haftwright/pictures/even_light.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "in_parallel.hpp"
#include "light.hpp"
#include "slow_light.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr double kMostCorrection = 4;

/// Pixels whose middles lie in a polygon: crossings of each row with its sides, two by two.
Mask inside_of(const std::vector<Vec2>& polygon, int width, int height) {
  Mask mask(width, height);
  std::vector<double> crossings;
  for (int y = 0; y < height; ++y) {
    const double row = y + 0.5;
    crossings.clear();
    for (std::size_t i = 0; i < polygon.size(); ++i) {
      const Vec2 a = polygon[i];
      const Vec2 b = polygon[(i + 1) % polygon.size()];
      if ((a.y <= row) != (b.y <= row)) crossings.push_back(a.x + (row - a.y) / (b.y - a.y) * (b.x - a.x));
    }
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      const double from = std::clamp(std::ceil(crossings[i] - 0.5), 0.0, double(width));
      const double to = std::clamp(std::ceil(crossings[i + 1] - 0.5), 0.0, double(width));
      for (int x = static_cast<int>(from); x < static_cast<int>(to); ++x) mask(x, y) = 1;
    }
  }
  return mask;
}

}  // namespace

EvenedPhoto even_light(const Photo& photo, const std::vector<Vec2>& area_px) {
  if (photo.width_px < 1 || photo.height_px < 1) throw std::invalid_argument("an empty picture has no light");
  if (!area_px.empty() && area_px.size() < 3) throw std::invalid_argument("an area has three places or more");
  std::optional<Mask> area;
  if (!area_px.empty()) area = inside_of(area_px, photo.width_px, photo.height_px);
  const auto slow = slow_light(photo, area ? &*area : nullptr);
  EvenedPhoto out{photo, 1};
  if (!slow) return out;
  std::vector<double> largest(static_cast<std::size_t>(photo.height_px), 1);
  const auto& light = light_table();
  in_parallel(photo.height_px, 0, [&](int y) {
    std::uint8_t* rgb =
        &out.photo.rgb[static_cast<std::size_t>(y) * static_cast<std::size_t>(photo.width_px) * 3];
    for (int x = 0; x < photo.width_px; ++x) {
      const double by = std::clamp(1 / slow->at(x + 0.5, y + 0.5), 1 / kMostCorrection, kMostCorrection);
      for (int c = 0; c < 3; ++c, ++rgb) *rgb = srgb_table()(static_cast<float>(by) * light[*rgb]);
      if (area && !(*area)(x, y)) continue;
      double& most = largest[static_cast<std::size_t>(y)];
      most = std::max({most, by, 1 / by});
    }
  });
  out.largest_correction = *std::max_element(largest.begin(), largest.end());
  return out;
}

}  // namespace haftwright
