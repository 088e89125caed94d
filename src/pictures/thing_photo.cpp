#include "haftwright/pictures/thing_photo.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "light.hpp"
#include "polygon_rows.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr double kGivesOut = 0.2;  // of the way past the rim
constexpr double kMeanRows = 64;   // that a mean looks at

/// From each pixel to the nearest one of a mask: two sweeps that hand the way on from neighbour to neighbour
/// (P.-E. Danielsson, Computer Graphics and Image Processing 14 (1980) 227-248). Off by a fraction of a pixel
/// at most.
class NearestOf {
 public:
  explicit NearestOf(const Mask& mask) : width_(mask.width), height_(mask.height), ways_(mask.values.size()) {
    for (std::size_t i = 0; i < ways_.size(); ++i) ways_[i] = mask.values[i] ? Way{0, 0} : kFar;
    for (int y = 0; y < height_; ++y) sweep(y, -1);
    for (int y = height_ - 1; y >= 0; --y) sweep(y, 1);
  }

  struct Way {
    std::int16_t x;
    std::int16_t y;
  };
  Way from(int x, int y) const { return ways_[index(x, y)]; }
  double distance(int x, int y) const { return std::sqrt(static_cast<double>(squared(from(x, y)))); }

 private:
  /// Farther than any two pixels of a picture are.
  static constexpr Way kFar{30000, 30000};

  static std::int64_t squared(Way way) { return std::int64_t{way.x} * way.x + std::int64_t{way.y} * way.y; }
  std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
  }
  void hand_on(int x, int y, int dx, int dy) {
    if (x + dx < 0 || y + dy < 0 || x + dx >= width_ || y + dy >= height_) return;
    const Way there = from(x + dx, y + dy);
    if (there.x == kFar.x) return;
    const Way way{static_cast<std::int16_t>(there.x + dx), static_cast<std::int16_t>(there.y + dy)};
    if (Way& own = ways_[index(x, y)]; squared(way) < squared(own)) own = way;
  }
  void sweep(int y, int row_before) {
    for (int x = 0; x < width_; ++x) {
      for (const int dx : {-1, 0, 1}) hand_on(x, y, dx, row_before);
      hand_on(x, y, -1, 0);
    }
    for (int x = width_ - 1; x >= 0; --x) hand_on(x, y, 1, 0);
  }

  int width_;
  int height_;
  std::vector<Way> ways_;
};

Mask without_rim(const Mask& area, double inset_px) {
  Mask outside(area.width, area.height);
  for (std::size_t i = 0; i < area.values.size(); ++i) outside.values[i] = !area.values[i];
  const NearestOf nearest(outside);
  Mask kept(area.width, area.height);
  for (int y = 0; y < area.height; ++y)
    for (int x = 0; x < area.width; ++x) kept(x, y) = area(x, y) && nearest.distance(x, y) > inset_px;
  return kept;
}

/// Puts the picture together from what is kept of it.
class Alone {
 public:
  Alone(Photo photo, const Mask& area, const Mask& kept, const ThingRim& rim)
      : area_(area), kept_(kept), rim_(rim), thing_{std::move(photo), {}} {
    thing_.shown.resize(kept.values.size());
    const NearestOf nearest(kept);
    const std::array<std::uint8_t, 3> mean = mean_of_kept();
    for (int y = 0; y < kept.height; ++y)
      for (int x = 0; x < kept.width; ++x) {
        const std::uint8_t shown = shown_at(x, y, nearest.distance(x, y));
        thing_.shown[kept_.index(x, y)] = shown;
        if (kept(x, y)) continue;
        const std::array<std::uint8_t, 3> here = shown ? mirrored(x, y, nearest.from(x, y)) : mean;
        std::copy(here.begin(), here.end(), pixel(x, y));
      }
  }
  ThingPhoto take() { return std::move(thing_); }

 private:
  std::uint8_t* pixel(int x, int y) { return &thing_.photo.rgb[3 * kept_.index(x, y)]; }

  std::uint8_t shown_at(int x, int y, double away_px) const {
    // What the rim itself hides is no gap in the picture.
    const double part = area_(x, y) ? 1 - (away_px - rim_.inset_px - 1) / std::max(rim_.soft_px, 1.0)
                                    : (rim_.past_px - away_px) / std::max(kGivesOut * rim_.past_px, 1e-9);
    return static_cast<std::uint8_t>(std::lround(255 * std::clamp(part, 0.0, 1.0)));
  }
  /// As far inside what is kept as the pixel lies outside of it.
  std::array<std::uint8_t, 3> mirrored(int x, int y, NearestOf::Way way) {
    for (const int times : {2, 1}) {
      const int at_x = x + times * way.x;
      const int at_y = y + times * way.y;
      if (!kept_.holds(at_x, at_y) || !kept_(at_x, at_y)) continue;
      const std::uint8_t* from = pixel(at_x, at_y);
      return {from[0], from[1], from[2]};
    }
    return {0, 0, 0};
  }
  std::array<std::uint8_t, 3> mean_of_kept() {
    const auto& light = light_table();
    double sum[3] = {};
    double count = 0;
    for (std::size_t i = 0; i < kept_.values.size(); ++i) {
      if (!kept_.values[i]) continue;
      ++count;
      for (std::size_t c = 0; c < 3; ++c) sum[c] += static_cast<double>(light[thing_.photo.rgb[3 * i + c]]);
    }
    std::array<std::uint8_t, 3> mean{};
    for (std::size_t c = 0; c < 3; ++c)
      mean[c] = srgb_table()(static_cast<float>(sum[c] / std::max(count, 1.0)));
    return mean;
  }

  const Mask& area_;
  const Mask& kept_;
  const ThingRim& rim_;
  ThingPhoto thing_;
};

}  // namespace

ThingPhoto thing_alone(Photo photo, const std::vector<Vec2>& area_px, const ThingRim& rim,
                       const std::function<bool(Vec2)>& seen) {
  if (photo.width_px < 1 || photo.height_px < 1)
    throw std::invalid_argument("an empty picture shows no thing");
  if (area_px.size() < 3) throw std::invalid_argument("an area has three places or more");
  if (!(rim.inset_px >= 0 && rim.past_px >= 0 && rim.soft_px >= 0))
    throw std::invalid_argument("a rim has no sizes under 0");
  const Mask area = inside_of(area_px, photo.width_px, photo.height_px);
  Mask kept = without_rim(area, rim.inset_px);
  for (int y = 0; seen && y < kept.height; ++y)
    for (int x = 0; x < kept.width; ++x)
      if (kept(x, y) && !seen({x + 0.5, y + 0.5})) kept(x, y) = 0;
  return Alone(std::move(photo), area, kept, rim).take();
}

MeanLight mean_light(const ThingPhoto& thing, const std::vector<Vec2>& area_px) {
  MeanLight mean;
  if (area_px.size() < 3) return mean;
  Vec2 low = area_px.front();
  Vec2 high = low;
  for (const Vec2 p : area_px) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  const auto& light = light_table();
  const double step = std::max({1.0, (high.y - low.y) / kMeanRows, (high.x - low.x) / kMeanRows});
  double places = 0;
  double weights = 0;
  std::vector<double> crossings;
  for (double row = low.y + step / 2; row < high.y; row += step) {
    find_crossings(area_px, row, crossings);
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
      for (double column = crossings[i] + step / 2; column < crossings[i + 1]; column += step) {
        ++places;
        if (!(row >= 0 && column >= 0 && row < thing.photo.height_px && column < thing.photo.width_px))
          continue;
        const auto at = static_cast<std::size_t>(row) * static_cast<std::size_t>(thing.photo.width_px) +
                        static_cast<std::size_t>(column);
        const double weight = thing.shown[at] / 255.0;
        weights += weight;
        for (int c = 0; c < 3; ++c)
          mean.light[c] +=
              weight * static_cast<double>(light[thing.photo.rgb[3 * at + static_cast<std::size_t>(c)]]);
      }
  }
  if (weights > 0) mean.light /= weights;
  if (places > 0) mean.share = weights / places;
  return mean;
}

}  // namespace haftwright
