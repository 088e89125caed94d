#include "edge_search.hpp"

#include <algorithm>
#include <cmath>

#include "light.hpp"

namespace haftwright::pictures {
namespace {

constexpr double kSpacing_px = 0.5;
// Levels on both sides are read from here to there off the steepest place: beyond what a sharp edge's pixels
// mix, near enough for slow shadows not to count.
constexpr double kLevelFrom_px = 2.0;
constexpr double kLevelTo_px = 4.5;
// The width of the filter that looks for the steepest place.
constexpr double kFilter_px = 1.5;

}  // namespace

Vec3 LightReader::colour(Vec2 px) const {
  const auto& light = light_table();
  const double fx = std::clamp(px.x - 0.5, 0.0, photo_.width_px - 1.0);
  const double fy = std::clamp(px.y - 0.5, 0.0, photo_.height_px - 1.0);
  const int x = static_cast<int>(fx);
  const int y = static_cast<int>(fy);
  const double u = fx - x;
  const double v = fy - y;
  const std::size_t line = static_cast<std::size_t>(photo_.width_px) * 3;
  const std::size_t first = static_cast<std::size_t>(y) * line + static_cast<std::size_t>(x) * 3;
  const std::size_t right = x + 1 < photo_.width_px ? 3 : 0;
  const std::size_t below = y + 1 < photo_.height_px ? line : 0;
  const std::uint8_t* rgb = photo_.rgb.data() + first;
  Vec3 out{0, 0, 0};
  for (std::size_t c = 0; c < 3; ++c) {
    const double top = (1 - u) * double{light[rgb[c]]} + u * double{light[rgb[right + c]]};
    const double low = (1 - u) * double{light[rgb[below + c]]} + u * double{light[rgb[below + right + c]]};
    out[static_cast<int>(c)] = (1 - v) * top + v * low;
  }
  return out;
}

double LightReader::brightness(Vec2 px) const {
  return glm::dot(colour(px), kBrightnessWeights);
}

std::optional<Step> steepest_rise(std::span<const double> profile, double spacing_px) {
  const auto count = static_cast<int>(profile.size());
  const auto value = [&](int i) { return profile[static_cast<std::size_t>(std::clamp(i, 0, count - 1))]; };
  const int half = std::max(1, static_cast<int>(std::lround(2 * kFilter_px / spacing_px)));
  int steepest = -1;
  double most = 0;
  for (int i = half; i < count - half; ++i) {
    double rise = 0;
    for (int k = 1; k <= half; ++k) {
      const double off = k * spacing_px / kFilter_px;
      rise += (value(i + k) - value(i - k)) * off * std::exp(-off * off / 2);
    }
    if (rise > most) {
      most = rise;
      steepest = i;
    }
  }
  if (steepest < 0) return {};
  double low = 0;
  double high = 0;
  const int from = static_cast<int>(std::lround(kLevelFrom_px / spacing_px));
  const int to = static_cast<int>(std::lround(kLevelTo_px / spacing_px));
  for (int k = from; k <= to; ++k) {
    low += value(steepest - k) / (to - from + 1);
    high += value(steepest + k) / (to - from + 1);
  }
  if (!(high > low)) return {};
  const double level = (low + high) / 2;
  // The crossing nearest to the steepest place.
  for (int off = 0; off <= from; ++off)
    for (const int i : {steepest - off - 1, steepest + off}) {
      if (i < 0 || i + 1 >= count || !(value(i) <= level && value(i + 1) > level)) continue;
      const double part = (level - value(i)) / (value(i + 1) - value(i));
      return Step{(i + part - (count - 1) / 2.0) * spacing_px, high - low};
    }
  return {};
}

std::optional<Step> rise_along(const LightReader& light, Vec2 middle, Vec2 direction, double reach_px) {
  // So far beyond the reach that the filter and the levels have their room.
  const double beyond = reach_px + kLevelTo_px;
  const int half = static_cast<int>(std::ceil(beyond / kSpacing_px));
  std::vector<double> profile;
  for (int i = -half; i <= half; ++i)
    profile.push_back(light.brightness(middle + direction * (i * kSpacing_px)));
  auto step = steepest_rise(profile, kSpacing_px);
  if (step && std::abs(step->at) > reach_px) step.reset();
  return step;
}

}  // namespace haftwright::pictures
