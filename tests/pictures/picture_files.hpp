// The pictures that other programs wrote.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "haftwright/pictures/photo.hpp"

namespace haftwright::test {

inline std::filesystem::path picture_file(const std::string& name) {
  return std::filesystem::path(HAFTWRIGHT_PICTURES) / name;
}

inline std::vector<std::uint8_t> bytes_of(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What all of them show: read here, as it is stored without any packing.
inline Photo base_picture() {
  const auto bytes = bytes_of(picture_file("base.ppm"));
  Photo photo{48, 32, {}};
  const std::size_t size = 48 * 32 * 3;
  photo.rgb.assign(bytes.end() - static_cast<std::ptrdiff_t>(size), bytes.end());
  return photo;
}

}  // namespace haftwright::test
