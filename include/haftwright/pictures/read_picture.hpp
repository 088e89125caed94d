// Reading the pictures that telephones, cameras and scanners write: JPEG, PNG, TIFF, HEIC.
//
// A file is taken for hostile until it has been read: size and kind are known from its header before memory
// is asked for, and what decoders warn of counts as damage. Values are taken as sRGB; other colour profiles
// (Display P3 of some telephones) are not applied. What is transparent comes out as over white.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>

#include "haftwright/pictures/photo.hpp"

namespace haftwright {

/// The most that a picture may ask for.
struct PictureLimits {
  std::int64_t pixels = 150'000'000;  ///< an A4 page scanned at 1200 dpi has 139 million
  int side_px = 24'000;               ///< of the longer side
  std::size_t file_bytes = std::size_t{128} << 20;
  /// The file, the decoder's own memory and the picture together, as worked out before decoding begins.
  std::size_t memory_bytes = std::size_t{1536} << 20;
  /// Looked at every few rows. A HEIC is decoded in one go: only its size limits its time.
  std::chrono::milliseconds time{30'000};
};

enum class PictureFormat { jpeg, png, tiff, heic };
/// "JPEG"
const char* name_of(PictureFormat format);

struct PictureFacts {
  PictureFormat format = PictureFormat::jpeg;
  int width_px = 0;  ///< as the picture is meant to be seen
  int height_px = 0;
  /// As it stands in the file, 1 to 8: tag 0x0112 of Exif and TIFF. For a HEIC always 1, as its decoder turns
  /// it.
  int orientation = 1;
  std::optional<double> dpi;  ///< where the file states one; many cameras state 72 and mean nothing by it
  /// The focal length for a picture 36 mm wide and 24 mm high with the same diagonal (Exif tag 0xA405), as
  /// the distance of the lens in pixels.
  std::optional<double> focal_px;
};

/// Reads the header alone. Throws PictureError, also for a size over the limits.
PictureFacts picture_facts(const std::filesystem::path& path, const PictureLimits& limits = {});

/// The picture as it is meant to be seen (orientation applied). With `at_most_px` over 0 it is reduced while
/// being read, in linear light, so that its longer side has at most that many pixels. Throws PictureError for
/// what is no such picture, damaged, of an unusual kind, or over a limit.
Photo read_picture(const std::filesystem::path& path, const PictureLimits& limits = {}, int at_most_px = 0);

/// The same for the bytes of a file.
PictureFacts picture_facts(const std::uint8_t* bytes, std::size_t size, const PictureLimits& limits = {});
Photo read_picture(const std::uint8_t* bytes, std::size_t size, const PictureLimits& limits = {},
                   int at_most_px = 0);

}  // namespace haftwright
