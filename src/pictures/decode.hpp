// What the four decoders share: the file's bytes, the limits, and where rows of pixels go.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "haftwright/pictures/read_picture.hpp"

namespace haftwright::pictures {

using Bytes = std::span<const std::uint8_t>;

/// What a header states, before the orientation is applied.
struct Stated {
  std::int64_t width_px = 0;
  std::int64_t height_px = 0;
  int orientation = 1;
  std::optional<double> dpi;
  std::optional<double> focal_35mm;
};

/// One picture being read.
struct Job {
  Bytes file;
  const PictureLimits& limits;
  int at_most_px = 0;
  std::chrono::steady_clock::time_point deadline;

  /// Throws PictureError when the time is up.
  void check_time() const;
  bool is_late() const { return std::chrono::steady_clock::now() > deadline; }
  /// Throws PictureError when the file, the picture and `decoder_bytes` do not fit into the memory allowed.
  void check_memory(const Stated& stated, std::uint64_t decoder_bytes) const;
};

/// Throws PictureError unless the size is at least 1 x 1 and within the limits.
void check_size(const Stated& stated, const PictureLimits& limits);

[[noreturn]] void refuse_damaged(PictureFormat format, const std::string& what);
[[noreturn]] void refuse_kind(PictureFormat format, const std::string& kind);

/// Takes rows from the top and reduces them in linear light where the picture is to be smaller.
class RowSink {
 public:
  struct Size {
    int width = 0;
    int height = 0;
  };
  /// The size that a picture of this size is reduced to.
  static Size reduced(const Stated& stated, int at_most_px);

  /// `to` is no larger than the size stated.
  RowSink(const Stated& stated, Size to);
  void add_row(const std::uint8_t* rgb);
  /// The picture, once all rows are there.
  Photo take();

 private:
  /// Where one source row or column goes: a share to `first`, the rest to the next.
  struct Share {
    int first = 0;
    float to_first = 1;
  };
  static std::vector<Share> shares(int from, int to);
  void finish_row();

  int width_ = 0;
  int height_ = 0;
  int row_ = 0;
  Photo photo_;
  bool reduces_ = false;
  std::vector<Share> columns_;
  std::vector<Share> rows_;
  std::vector<float> line_;     // one source row, columns already summed
  std::vector<float> current_;  // the row being filled
  std::vector<float> next_;
  int filled_ = 0;
};

/// `orientation` as of Exif, 1 to 8.
Photo turned(Photo photo, int orientation);

Stated jpeg_stated(Bytes file);
Photo read_jpeg(const Job& job, const Stated& stated);
Stated png_stated(Bytes file);
Photo read_png(const Job& job, const Stated& stated);
Stated tiff_stated(Bytes file);
Photo read_tiff(const Job& job, const Stated& stated);
Stated heic_stated(Bytes file);
Photo read_heic(const Job& job, const Stated& stated);

/// Puts a colour with `opacity` of 255 over white, in linear light.
void put_over_white(const std::uint8_t* rgba, std::uint8_t* rgb);

}  // namespace haftwright::pictures
