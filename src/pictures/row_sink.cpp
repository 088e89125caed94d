#include <algorithm>
#include <cmath>

#include "decode.hpp"
#include "light.hpp"

namespace haftwright::pictures {

RowSink::Size RowSink::reduced(const Stated& stated, int at_most_px) {
  const auto width = static_cast<int>(stated.width_px);
  const auto height = static_cast<int>(stated.height_px);
  const int longer = std::max(width, height);
  if (at_most_px <= 0 || longer <= at_most_px) return {width, height};
  const auto side = [&](int of) {
    return std::clamp(static_cast<int>(std::lround(double{1} * of * at_most_px / longer)), 1, at_most_px);
  };
  return {side(width), side(height)};
}

std::vector<RowSink::Share> RowSink::shares(int from, int to) {
  std::vector<Share> all(static_cast<std::size_t>(from));
  for (int i = 0; i < from; ++i) {
    // In units of 1/from of a new pixel, so that the edges are whole numbers.
    const std::int64_t begin = std::int64_t{i} * to;
    const std::int64_t end = begin + to;
    Share& share = all[static_cast<std::size_t>(i)];
    share.first = static_cast<int>(begin / from);
    const std::int64_t edge = (std::int64_t{share.first} + 1) * from;
    share.to_first = edge >= end ? 1.0f : static_cast<float>(edge - begin) / static_cast<float>(to);
  }
  return all;
}

RowSink::RowSink(const Stated& stated, Size size)
    : width_(static_cast<int>(stated.width_px)), height_(static_cast<int>(stated.height_px)) {
  reduces_ = size.width != width_ || size.height != height_;
  photo_.width_px = size.width;
  photo_.height_px = size.height;
  const std::size_t line = static_cast<std::size_t>(size.width) * 3;
  photo_.rgb.resize(line * static_cast<std::size_t>(size.height));
  if (!reduces_) return;
  columns_ = shares(width_, size.width);
  rows_ = shares(height_, size.height);
  // One pixel more, for the share of nothing that the last column hands on.
  line_.resize(line + 3);
  current_.resize(line);
  next_.resize(line);
}

void RowSink::add_row(const std::uint8_t* rgb) {
  const std::size_t line = static_cast<std::size_t>(photo_.width_px) * 3;
  if (!reduces_) {
    std::copy_n(rgb, line, photo_.rgb.begin() + static_cast<std::ptrdiff_t>(line) * row_);
    ++row_;
    return;
  }
  const auto& light = light_table();
  std::fill(line_.begin(), line_.end(), 0.0f);
  for (const Share& share : columns_) {
    float* to = &line_[static_cast<std::size_t>(share.first) * 3];
    for (int c = 0; c < 3; ++c) {
      const float value = light[*rgb++];
      to[c] += share.to_first * value;
      to[c + 3] += (1 - share.to_first) * value;
    }
  }
  const Share& share = rows_[static_cast<std::size_t>(row_)];
  while (filled_ < share.first) finish_row();
  for (std::size_t i = 0; i < line; ++i) {
    current_[i] += share.to_first * line_[i];
    next_[i] += (1 - share.to_first) * line_[i];
  }
  ++row_;
  if (row_ == height_) finish_row();
}

void RowSink::finish_row() {
  const auto& srgb = srgb_table();
  const float area = static_cast<float>(double{1} * photo_.width_px * photo_.height_px /
                                        (static_cast<double>(width_) * height_));
  const std::size_t line = current_.size();
  std::uint8_t* to = &photo_.rgb[line * static_cast<std::size_t>(filled_)];
  for (std::size_t i = 0; i < line; ++i) to[i] = srgb(current_[i] * area);
  current_.swap(next_);
  std::fill(next_.begin(), next_.end(), 0.0f);
  ++filled_;
}

Photo RowSink::take() {
  return std::move(photo_);
}

void put_over_white(const std::uint8_t* rgba, std::uint8_t* rgb) {
  if (rgba[3] == 255) {
    std::copy_n(rgba, 3, rgb);
    return;
  }
  const auto& light = light_table();
  const float opacity = static_cast<float>(rgba[3]) / 255;
  for (int c = 0; c < 3; ++c) rgb[c] = srgb_table()(opacity * light[rgba[c]] + (1 - opacity));
}

Photo turned(Photo photo, int orientation) {
  if (orientation <= 1 || orientation > 8) return photo;
  const int width = photo.width_px;
  const int height = photo.height_px;
  const bool on_its_side = orientation >= 5;
  Photo out{on_its_side ? height : width, on_its_side ? width : height, {}};
  out.rgb.resize(photo.rgb.size());
  // Exif 2.3, tag 0x0112: where row 0 and column 0 of the stored picture are to be seen.
  const bool from_right = orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
  const bool from_below = orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
  std::uint8_t* to = out.rgb.data();
  for (int y = 0; y < out.height_px; ++y)
    for (int x = 0; x < out.width_px; ++x) {
      const int column = on_its_side ? y : x;
      const int row = on_its_side ? x : y;
      const int from_x = from_right ? width - 1 - column : column;
      const int from_y = from_below ? height - 1 - row : row;
      const std::uint8_t* from =
          &photo.rgb[(static_cast<std::size_t>(from_y) * static_cast<std::size_t>(width) +
                      static_cast<std::size_t>(from_x)) *
                     3];
      to = std::copy_n(from, 3, to);
    }
  return out;
}

}  // namespace haftwright::pictures
