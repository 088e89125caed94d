#include "haftwright/render/picture.hpp"

#include <stb/stb_image_write.h>

#include <stdexcept>

namespace haftwright {

std::array<std::uint8_t, 4> Picture::at(int x, int y) const {
  const auto first =
      (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) * 4;
  return {rgba.at(first), rgba.at(first + 1), rgba.at(first + 2), rgba.at(first + 3)};
}

std::string png_bytes(const Picture& picture) {
  if (picture.width <= 0 || picture.height <= 0 ||
      picture.rgba.size() !=
          static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height) * 4)
    throw std::invalid_argument("an empty picture has no PNG");
  std::string bytes;
  const auto append = [](void* to, void* data, int size) {
    static_cast<std::string*>(to)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
  };
  if (stbi_write_png_to_func(append, &bytes, picture.width, picture.height, 4, picture.rgba.data(),
                             picture.width * 4) == 0)
    throw std::runtime_error("the picture can't be packed as PNG: out of memory?");
  return bytes;
}

}  // namespace haftwright
