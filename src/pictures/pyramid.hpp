// A picture in linear light at full size and halved again and again.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "haftwright/pictures/photo.hpp"
#include "light.hpp"

namespace haftwright::pictures {

struct Light {
  float r = 0;
  float g = 0;
  float b = 0;
};

class Pyramid {
 public:
  explicit Pyramid(const Photo& photo) : photo_(photo), light_(light_table()) {}

  /// Makes the levels 1 to `levels`, or as many as the picture has.
  void build(int levels, unsigned threads);

  /// The light at a place in the photo's pixels, between the levels on either side of `level`; white beyond
  /// the picture.
  Light at(float x, float y, float level) const {
    if (!(x >= 0 && y >= 0 && x <= static_cast<float>(photo_.width_px) &&
          y <= static_cast<float>(photo_.height_px)))
      return {1, 1, 1};
    if (level <= 0 || levels_.empty()) return at_full(x, y);
    const float most = static_cast<float>(levels_.size());
    if (level >= most) return at_level(levels_.back(), x, y);
    const auto lower = static_cast<std::size_t>(level);
    const float t = level - static_cast<float>(lower);
    const Light fine = lower == 0 ? at_full(x, y) : at_level(levels_[lower - 1], x, y);
    const Light coarse = at_level(levels_[lower], x, y);
    return {fine.r + t * (coarse.r - fine.r), fine.g + t * (coarse.g - fine.g),
            fine.b + t * (coarse.b - fine.b)};
  }

  /// Whether all four neighbours of a place are on the photo.
  bool is_inside(float x, float y) const {
    return x >= 1 && y >= 1 && x <= static_cast<float>(photo_.width_px - 1) &&
           y <= static_cast<float>(photo_.height_px - 1);
  }
  /// At full size, for places that are inside.
  Light at_inside(float x, float y) const {
    const float fx = x - 0.5f;
    const float fy = y - 0.5f;
    const int column = static_cast<int>(fx);
    const int row = static_cast<int>(fy);
    const float u = fx - static_cast<float>(column);
    const float v = fy - static_cast<float>(row);
    const std::ptrdiff_t line = std::ptrdiff_t{3} * photo_.width_px;
    const std::uint8_t* top = photo_.rgb.data() + row * line + std::ptrdiff_t{3} * column;
    const std::uint8_t* low = top + line;
    const float* light = light_.data();
    const float low_right = u * v;
    const float low_left = v - low_right;
    const float top_right = u - low_right;
    const float top_left = 1 - u - low_left;
    const auto channel = [&](int c) {
      return top_left * light[top[c]] + top_right * light[top[c + 3]] + low_left * light[low[c]] +
             low_right * light[low[c + 3]];
    };
    return {channel(0), channel(1), channel(2)};
  }

 private:
  struct Level {
    int width = 0;
    int height = 0;
    float shrink_x = 1;  ///< from the photo's pixels to this level's
    float shrink_y = 1;
    std::vector<std::uint16_t> light;  ///< linear, 65535 is white
  };

  /// Four neighbours and their shares.
  struct Between {
    std::size_t row_0, row_1;
    std::size_t x_0, x_1;
    float u, v;
  };
  static Between between(float x, float y, int width, int height) {
    const auto clamped = [](float place, int most) {
      return place < 0 ? 0 : place > float(most) ? float(most) : place;
    };
    const float fx = clamped(x - 0.5f, width - 1);
    const float fy = clamped(y - 0.5f, height - 1);
    const int x_0 = static_cast<int>(fx);
    const int y_0 = static_cast<int>(fy);
    const int x_1 = x_0 + 1 < width ? x_0 + 1 : x_0;
    const int y_1 = y_0 + 1 < height ? y_0 + 1 : y_0;
    const auto line = static_cast<std::size_t>(width) * 3;
    return {static_cast<std::size_t>(y_0) * line, static_cast<std::size_t>(y_1) * line,
            static_cast<std::size_t>(x_0) * 3,    static_cast<std::size_t>(x_1) * 3,
            fx - static_cast<float>(x_0),         fy - static_cast<float>(y_0)};
  }
  template <class Value>
  static Light mixed(const Between& b, Value value) {
    const auto channel = [&](std::size_t c) {
      const float top = value(b.row_0 + b.x_0 + c) * (1 - b.u) + value(b.row_0 + b.x_1 + c) * b.u;
      const float low = value(b.row_1 + b.x_0 + c) * (1 - b.u) + value(b.row_1 + b.x_1 + c) * b.u;
      return top + b.v * (low - top);
    };
    return {channel(0), channel(1), channel(2)};
  }

  Light at_full(float x, float y) const {
    const std::uint8_t* rgb = photo_.rgb.data();
    const float* light = light_.data();
    return mixed(between(x, y, photo_.width_px, photo_.height_px),
                 [rgb, light](std::size_t i) { return light[rgb[i]]; });
  }
  static Light at_level(const Level& level, float x, float y) {
    const std::uint16_t* light = level.light.data();
    return mixed(between(x * level.shrink_x, y * level.shrink_y, level.width, level.height),
                 [light](std::size_t i) { return static_cast<float>(light[i]) * (1.0f / 65535); });
  }

  void fill_row(Level& level, const Level* finer, int row) const;

  const Photo& photo_;
  const std::array<float, 256>& light_;
  std::vector<Level> levels_;
};

}  // namespace haftwright::pictures
