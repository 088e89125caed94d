#include "haftwright/pictures/even_light.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "in_parallel.hpp"
#include "light.hpp"
#include "polygon_rows.hpp"
#include "slow_light.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr double kMostCorrection = 4;

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
