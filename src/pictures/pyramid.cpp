#include "pyramid.hpp"

#include <algorithm>

#include "in_parallel.hpp"

namespace haftwright::pictures {

void Pyramid::build(int levels, unsigned threads) {
  int width = photo_.width_px;
  int height = photo_.height_px;
  for (int i = 0; i < levels && std::max(width, height) > 1; ++i) {
    const Level* finer = levels_.empty() ? nullptr : &levels_.back();
    Level level;
    level.width = (width + 1) / 2;
    level.height = (height + 1) / 2;
    // An odd side's last pixel stands for half a one more, so the level reaches past the picture.
    level.shrink_x = (finer ? finer->shrink_x : 1) / 2;
    level.shrink_y = (finer ? finer->shrink_y : 1) / 2;
    level.light.resize(static_cast<std::size_t>(level.width) * static_cast<std::size_t>(level.height) * 3);
    in_parallel(level.height, threads, [&](int row) { fill_row(level, finer, row); });
    levels_.push_back(std::move(level));
    width = levels_.back().width;
    height = levels_.back().height;
  }
}

void Pyramid::fill_row(Level& level, const Level* finer, int row) const {
  const int width = finer ? finer->width : photo_.width_px;
  const int height = finer ? finer->height : photo_.height_px;
  const auto line = static_cast<std::size_t>(width) * 3;
  const std::size_t upper = static_cast<std::size_t>(2 * row) * line;
  const std::size_t lower = static_cast<std::size_t>(std::min(2 * row + 1, height - 1)) * line;
  std::uint16_t* to = &level.light[static_cast<std::size_t>(row) * static_cast<std::size_t>(level.width) * 3];
  const auto average = [&](auto value) {
    for (int x = 0; x < level.width; ++x) {
      const std::size_t left = static_cast<std::size_t>(2 * x) * 3;
      const std::size_t right = static_cast<std::size_t>(std::min(2 * x + 1, width - 1)) * 3;
      for (std::size_t c = 0; c < 3; ++c)
        *to++ = static_cast<std::uint16_t>(0.25f * (value(upper + left + c) + value(upper + right + c) +
                                                    value(lower + left + c) + value(lower + right + c)) +
                                           0.5f);
    }
  };
  if (finer) {
    const std::uint16_t* light = finer->light.data();
    average([light](std::size_t i) { return static_cast<float>(light[i]); });
  } else {
    const std::uint8_t* rgb = photo_.rgb.data();
    const float* light = light_.data();
    average([rgb, light](std::size_t i) { return light[rgb[i]] * 65535; });
  }
}

}  // namespace haftwright::pictures
