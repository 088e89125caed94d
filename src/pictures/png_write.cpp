#include <png.h>

#include <cmath>
#include <csetjmp>
#include <stdexcept>

#include "haftwright/pictures/photo.hpp"

namespace haftwright {
namespace {

class Encoder {
 public:
  Encoder() {
    png_ = png_create_write_struct(
        PNG_LIBPNG_VER_STRING, this,
        [](png_structp png, png_const_charp) {
          std::longjmp(static_cast<Encoder*>(png_get_error_ptr(png))->back_, 1);
        },
        [](png_structp, png_const_charp) {});
    if (png_) info_ = png_create_info_struct(png_);
    if (!png_ || !info_) throw std::bad_alloc();
  }
  Encoder(const Encoder&) = delete;
  Encoder& operator=(const Encoder&) = delete;
  ~Encoder() { png_destroy_write_struct(&png_, &info_); }

  void write(const Photo& photo, double dpi) {
    if (setjmp(back_)) throw std::runtime_error("the picture can't be packed as PNG");
    png_set_write_fn(
        png_, this,
        [](png_structp png, png_bytep from, std::size_t size) {
          static_cast<Encoder*>(png_get_io_ptr(png))->take(from, size);
        },
        nullptr);
    // Quick rather than small: wood does not get much smaller with effort.
    png_set_compression_level(png_, 3);
    png_set_IHDR(png_, info_, static_cast<png_uint_32>(photo.width_px),
                 static_cast<png_uint_32>(photo.height_px), 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    png_set_sRGB(png_, info_, PNG_sRGB_INTENT_PERCEPTUAL);
    if (dpi > 0) {
      const auto per_metre = static_cast<png_uint_32>(std::lround(dpi / 0.0254));
      png_set_pHYs(png_, info_, per_metre, per_metre, PNG_RESOLUTION_METER);
    }
    png_write_info(png_, info_);
    for (int y = 0; y < photo.height_px; ++y)
      png_write_row(png_, photo.rgb.data() +
                              static_cast<std::size_t>(y) * static_cast<std::size_t>(photo.width_px) * 3);
    png_write_end(png_, info_);
    if (out_of_memory_) throw std::bad_alloc();
  }

  std::string bytes;

 private:
  void take(png_bytep from, std::size_t size) {
    // No exception may pass through the library.
    try {
      bytes.append(reinterpret_cast<const char*>(from), size);
    } catch (const std::bad_alloc&) {
      out_of_memory_ = true;
    }
  }

  png_structp png_ = nullptr;
  png_infop info_ = nullptr;
  std::jmp_buf back_{};
  bool out_of_memory_ = false;
};

}  // namespace

std::string png_bytes(const Photo& photo, std::optional<double> dpi) {
  if (photo.width_px <= 0 || photo.height_px <= 0 ||
      photo.rgb.size() !=
          static_cast<std::size_t>(photo.width_px) * static_cast<std::size_t>(photo.height_px) * 3)
    throw std::invalid_argument("an empty picture has no PNG");
  if (dpi && !(*dpi > 0 && *dpi < 1e5)) throw std::invalid_argument("dots per inch must be above 0");
  Encoder encoder;
  encoder.write(photo, dpi.value_or(0));
  return std::move(encoder.bytes);
}

std::array<std::uint8_t, 3> Photo::at(int x, int y) const {
  if (x < 0 || y < 0 || x >= width_px || y >= height_px) throw std::out_of_range("off the picture");
  const auto first =
      (static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px) + static_cast<std::size_t>(x)) * 3;
  return {rgb.at(first), rgb.at(first + 1), rgb.at(first + 2)};
}

}  // namespace haftwright
