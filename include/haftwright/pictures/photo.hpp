// A picture as rows of pixels: a photograph, a scan, or what was made of one.
//
// Places on it are pixels with x to the right and y DOWN from its top left corner, so that the middle of the
// first pixel is (0.5, 0.5).
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace haftwright {

/// Rows from the top, three bytes a pixel: red, green, blue as sRGB (IEC 61966-2-1).
struct Photo {
  int width_px = 0;
  int height_px = 0;
  std::vector<std::uint8_t> rgb;

  /// Throws std::out_of_range off the picture.
  std::array<std::uint8_t, 3> at(int x, int y) const;
  bool operator==(const Photo&) const = default;
};

/// What is wrong with a picture and what would be right, as one sentence for the maker. It does not name the
/// file: the caller knows it.
class PictureError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The bytes of a PNG file. `dpi`: how large it is to be printed. Throws std::invalid_argument for a picture
/// with no pixels or with too few bytes for them, or a `dpi` that is not above 0.
std::string png_bytes(const Photo& photo, std::optional<double> dpi = {});

/// From an sRGB value, 0 to 1, to the share of light that it stands for, and back (IEC 61966-2-1:1999, 5.2).
double light_of_srgb(double value);
double srgb_of_light(double light);

}  // namespace haftwright
