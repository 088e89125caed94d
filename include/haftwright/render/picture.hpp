// A picture in memory, and its PNG.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace haftwright {

/// Rows from the top, four bytes a pixel: red, green, blue (sRGB), alpha (not premultiplied).
struct Picture {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgba;

  std::array<std::uint8_t, 4> at(int x, int y) const;
};

/// The bytes of a PNG file. Throws std::invalid_argument for an empty picture.
std::string png_bytes(const Picture& picture);

}  // namespace haftwright
