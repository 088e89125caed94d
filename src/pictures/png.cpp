#include <png.h>

#include <csetjmp>
#include <cstring>
#include <string_view>

#include "decode.hpp"
#include "exif.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright::pictures {
namespace {

// Texts, profiles and the like: more chunks of them, or larger ones, than any camera or program writes.
constexpr png_uint_32 kMostChunks = 1000;
constexpr png_alloc_size_t kMostChunkBytes = 16 << 20;

// What is not needed for the pixels, or read by ourselves: the library asks for as much memory as some of
// these state before it looks whether they are there.
constexpr png_byte kSkipped[] =
    "cHRM\0gAMA\0iCCP\0sRGB\0sBIT\0bKGD\0hIST\0pHYs\0sPLT\0tIME\0tEXt\0zTXt\0iTXt\0eXIf\0oFFs\0pCAL\0sCAL";
constexpr int kSkippedCount = sizeof kSkipped / 5;

class Decoder {
 public:
  explicit Decoder(const Job& job) : job_(job) {
    png_ = png_create_read_struct(
        PNG_LIBPNG_VER_STRING, this,
        [](png_structp png, png_const_charp text) {
          static_cast<Decoder*>(png_get_error_ptr(png))->fail(text);
        },
        [](png_structp png, png_const_charp text) {
          // Warnings about the picture's own data: what comes out is made up in part.
          if (std::strncmp(text, "IDAT", 4) == 0) static_cast<Decoder*>(png_get_error_ptr(png))->fail(text);
        });
    if (png_) info_ = png_create_info_struct(png_);
    if (!png_ || !info_) throw std::bad_alloc();
  }
  Decoder(const Decoder&) = delete;
  Decoder& operator=(const Decoder&) = delete;
  ~Decoder() { png_destroy_read_struct(&png_, &info_, nullptr); }

  void start(const Stated& stated) {
    if (setjmp(back_)) throw_failure();
    png_set_user_limits(png_, static_cast<png_uint_32>(job_.limits.side_px),
                        static_cast<png_uint_32>(job_.limits.side_px));
    png_set_chunk_cache_max(png_, kMostChunks);
    png_set_chunk_malloc_max(png_, kMostChunkBytes);
    png_set_keep_unknown_chunks(png_, PNG_HANDLE_CHUNK_NEVER, kSkipped, kSkippedCount);
    png_set_read_fn(png_, this, [](png_structp png, png_bytep to, std::size_t size) {
      static_cast<Decoder*>(png_get_io_ptr(png))->give(to, size);
    });
    png_read_info(png_, info_);
    if (png_get_image_width(png_, info_) != stated.width_px ||
        png_get_image_height(png_, info_) != stated.height_px)
      fail("it states two sizes");
    png_set_expand(png_);    // palettes, 1 to 4 bits, transparent colours
    png_set_scale_16(png_);  // rounded, where cutting the low byte off would darken
    png_set_gray_to_rgb(png_);
    passes_ = png_set_interlace_handling(png_);
    png_read_update_info(png_, info_);
    channels_ = png_get_channels(png_, info_);
    if (png_get_bit_depth(png_, info_) != 8 || (channels_ != 3 && channels_ != 4))
      refuse_kind(PictureFormat::png, "its colours");
  }

  std::size_t row_bytes() const { return png_get_rowbytes(png_, info_); }
  bool is_interlaced() const { return passes_ > 1; }
  int channels() const { return channels_; }
  int passes() const { return passes_; }
  void read_row(std::uint8_t* row) {
    if (setjmp(back_)) throw_failure();
    png_read_row(png_, row, nullptr);
  }
  /// Up to the end, so that a file that breaks off is not taken for a whole one.
  void finish() {
    if (setjmp(back_)) throw_failure();
    png_read_end(png_, nullptr);
  }

 private:
  [[noreturn]] void fail(png_const_charp text) {
    std::snprintf(failure_, sizeof failure_, "%s", text);
    std::longjmp(back_, 1);
  }
  void give(png_bytep to, std::size_t size) {
    if (job_.file.size() - at_ < size) fail("it breaks off");
    std::memcpy(to, job_.file.data() + at_, size);
    at_ += size;
  }
  [[noreturn]] void throw_failure() { refuse_damaged(PictureFormat::png, failure_); }

  const Job& job_;
  png_structp png_ = nullptr;
  png_infop info_ = nullptr;
  std::jmp_buf back_{};
  char failure_[128] = "";
  std::size_t at_ = 0;
  int passes_ = 1;
  int channels_ = 3;
};

std::uint32_t word(Bytes file, std::size_t at) {
  return std::uint32_t{file[at]} << 24 | std::uint32_t{file[at + 1]} << 16 |
         std::uint32_t{file[at + 2]} << 8 | file[at + 3];
}

class RowWriter {
 public:
  RowWriter(RowSink& sink, int channels, std::int64_t width)
      : sink_(sink), channels_(channels), width_(static_cast<std::size_t>(width)), rgb_(width_ * 3) {}
  void add(const std::uint8_t* row) {
    if (channels_ == 3) return sink_.add_row(row);
    for (std::size_t x = 0; x < width_; ++x) put_over_white(row + 4 * x, &rgb_[3 * x]);
    sink_.add_row(rgb_.data());
  }

 private:
  RowSink& sink_;
  int channels_;
  std::size_t width_;
  std::vector<std::uint8_t> rgb_;
};

}  // namespace

Stated png_stated(Bytes file) {
  constexpr std::size_t kSignature = 8;
  constexpr std::size_t kChunkFrame = 12;  // length, name, checksum
  Stated stated;
  for (std::size_t at = kSignature; file.size() - at >= kChunkFrame;) {
    const std::size_t length = word(file, at);
    if (file.size() - at - kChunkFrame < length) break;
    const std::string_view name(reinterpret_cast<const char*>(file.data()) + at + 4, 4);
    const Bytes body = file.subspan(at + 8, length);
    if (name == "IHDR" && length == 13 && stated.width_px == 0) {
      stated.width_px = word(body, 0);
      stated.height_px = word(body, 4);
    } else if (name == "pHYs" && length == 9 && body[8] == 1) {
      stated.dpi = word(body, 0) * 0.0254;
      if (*stated.dpi <= 0) stated.dpi.reset();
    } else if (name == "eXIf") {
      take_exif(body, stated);
    }
    at += kChunkFrame + length;
  }
  if (stated.width_px == 0) refuse_damaged(PictureFormat::png, "its size is missing");
  return stated;
}

Photo read_png(const Job& job, const Stated& stated) {
  Decoder decoder(job);
  decoder.start(stated);
  const auto rows = static_cast<std::size_t>(stated.height_px);
  const std::size_t row_bytes = decoder.row_bytes();
  job.check_memory(stated, (decoder.is_interlaced() ? rows : 4) * row_bytes + kMostChunkBytes);
  RowSink sink(stated, RowSink::reduced(stated, job.at_most_px));
  RowWriter writer(sink, decoder.channels(), stated.width_px);
  // The rows of an interlaced picture are whole after the last pass only.
  std::vector<std::uint8_t> all(decoder.is_interlaced() ? rows * row_bytes : row_bytes);
  for (int pass = 0; pass < decoder.passes(); ++pass)
    for (std::size_t y = 0; y < rows; ++y) {
      if (y % 64 == 0) job.check_time();
      std::uint8_t* row = all.data() + (decoder.is_interlaced() ? y * row_bytes : 0);
      decoder.read_row(row);
      if (pass + 1 == decoder.passes()) writer.add(row);
    }
  decoder.finish();
  return sink.take();
}

}  // namespace haftwright::pictures
