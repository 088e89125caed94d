// jpeglib.h wants size_t and FILE before it.
#include <cstddef>
#include <cstdio>
// In this order.
#include <jerror.h>
#include <jpeglib.h>

#include <algorithm>
#include <csetjmp>
#include <string_view>

#include "decode.hpp"
#include "exif.hpp"

namespace haftwright::pictures {
namespace {

// A progressive picture has a scan for each share of its details, ten or so as cameras write it. Each costs a
// pass over the whole picture: hostile files hold thousands.
constexpr int kMostScans = 100;
constexpr std::uint8_t kStartOfScan = 0xDA;
constexpr std::uint8_t kApp0 = 0xE0;
constexpr std::uint8_t kApp1 = 0xE1;

class Decoder {
 public:
  explicit Decoder(const Job& job) : job_(job) {
    info_.err = jpeg_std_error(&errors_);
    errors_.error_exit = [](j_common_ptr info) { of(info).fail(); };
    errors_.emit_message = [](j_common_ptr info, int level) { of(info).hear(level); };
    errors_.output_message = [](j_common_ptr) {};
    info_.client_data = this;
  }
  Decoder(const Decoder&) = delete;
  Decoder& operator=(const Decoder&) = delete;
  ~Decoder() { jpeg_destroy_decompress(&info_); }

  /// Reads the header and chooses how the picture is to come out.
  void start(const Stated& stated) {
    if (setjmp(back_)) throw_failure();
    jpeg_create_decompress(&info_);
    jpeg_mem_src(&info_, job_.file.data(), static_cast<unsigned long>(job_.file.size()));
    jpeg_read_header(&info_, TRUE);
    if (info_.image_width != stated.width_px || info_.image_height != stated.height_px)
      refuse_damaged(PictureFormat::jpeg, "it states two sizes");
    info_.out_color_space = info_.num_components == 4 ? JCS_CMYK : JCS_RGB;
    info_.scale_denom = static_cast<unsigned>(reduction(stated));
  }

  /// What the decoder keeps of the whole picture.
  std::uint64_t decoder_bytes() const {
    if (!info_.progressive_mode && info_.comps_in_scan == info_.num_components) return 1 << 20;
    std::uint64_t sum = 1 << 20;
    for (int i = 0; i < info_.num_components; ++i) {
      const jpeg_component_info& part = info_.comp_info[i];
      sum += std::uint64_t{part.width_in_blocks} * part.height_in_blocks * DCTSIZE2 * sizeof(JCOEF);
    }
    return sum;
  }

  /// All scans of a progressive picture, up to the first row.
  void prepare() {
    if (setjmp(back_)) throw_failure();
    info_.mem->max_memory_to_use = static_cast<long>(decoder_bytes() + decoder_bytes() / 8 + (8 << 20));
    progress_.progress_monitor = [](j_common_ptr info) { of(info).watch(); };
    info_.progress = &progress_;
    jpeg_start_decompress(&info_);
    line_.resize(static_cast<std::size_t>(info_.output_width) *
                 static_cast<std::size_t>(info_.output_components));
    rgb_.resize(static_cast<std::size_t>(info_.output_width) * 3);
  }

  std::int64_t width() const { return info_.output_width; }
  std::int64_t height() const { return info_.output_height; }

  const std::uint8_t* next_row() {
    if (setjmp(back_)) throw_failure();
    JSAMPROW row = line_.data();
    if (jpeg_read_scanlines(&info_, &row, 1) != 1) refuse_damaged(PictureFormat::jpeg, "rows are missing");
    if (info_.out_color_space == JCS_RGB) return line_.data();
    // Programs that write the marker "Adobe" store ink as its absence; a plain file stores ink.
    const int flip = info_.saw_Adobe_marker ? 0 : 255;
    for (std::size_t x = 0; x < info_.output_width; ++x) {
      const int black = line_[4 * x + 3] ^ flip;
      for (std::size_t c = 0; c < 3; ++c)
        rgb_[3 * x + c] = static_cast<std::uint8_t>(((line_[4 * x + c] ^ flip) * black + 127) / 255);
    }
    return rgb_.data();
  }

 private:
  static Decoder& of(j_common_ptr info) { return *static_cast<Decoder*>(info->client_data); }

  /// The decoder's own reduction, at least as large as what is asked for.
  int reduction(const Stated& stated) const {
    if (job_.at_most_px <= 0) return 1;
    int by = 1;
    const std::int64_t longer = std::max(stated.width_px, stated.height_px);
    while (by < 8 && longer / (2 * by) >= job_.at_most_px) by *= 2;
    return by;
  }

  [[noreturn]] void fail() {
    char text[JMSG_LENGTH_MAX];
    info_.err->format_message(reinterpret_cast<j_common_ptr>(&info_), text);
    std::snprintf(failure_, sizeof failure_, "%s", text);
    std::longjmp(back_, 1);
  }
  /// Level -1 is a warning: the data is corrupt and what comes out is made up in part.
  void hear(int level) {
    if (level >= 0 || errors_.msg_code == JWRN_ADOBE_XFORM) return;
    fail();
  }
  void watch() {
    late_ = job_.is_late();
    if (late_ || info_.input_scan_number > kMostScans) {
      std::snprintf(failure_, sizeof failure_, "it has over %d scans", kMostScans);
      std::longjmp(back_, 1);
    }
  }
  [[noreturn]] void throw_failure() {
    if (late_) job_.check_time();
    switch (errors_.msg_code) {
      case JERR_BAD_PRECISION:
      case JERR_ARITH_NOTIMPL:
      case JERR_SOF_UNSUPPORTED:
      case JERR_CONVERSION_NOTIMPL:
      case JERR_BAD_COMPONENT_ID:
        refuse_kind(PictureFormat::jpeg, failure_);
      default:
        refuse_damaged(PictureFormat::jpeg, failure_);
    }
  }

  const Job& job_;
  jpeg_decompress_struct info_{};
  jpeg_error_mgr errors_{};
  jpeg_progress_mgr progress_{};
  std::jmp_buf back_{};
  char failure_[JMSG_LENGTH_MAX] = "";
  bool late_ = false;
  std::vector<std::uint8_t> line_;
  std::vector<std::uint8_t> rgb_;
};

/// SOF0 to SOF15, without the tables DHT, JPG and DAC whose codes lie between them.
bool is_frame_header(std::uint8_t marker) {
  return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

void take_segment(std::uint8_t marker, Bytes body, Stated& stated) {
  using namespace std::string_view_literals;
  const auto begins = [&](std::string_view text) {
    return body.size() >= text.size() &&
           std::equal(text.begin(), text.end(), body.begin(),
                      [](char a, std::uint8_t b) { return static_cast<std::uint8_t>(a) == b; });
  };
  const auto word = [&](std::size_t at) { return body[at] << 8 | body[at + 1]; };
  if (is_frame_header(marker) && body.size() >= 6 && stated.width_px == 0) {
    stated.height_px = word(1);
    stated.width_px = word(3);
  } else if (marker == kApp1 && begins("Exif\0\0"sv)) {
    take_exif(body.subspan(6), stated);
  } else if (marker == kApp0 && begins("JFIF\0"sv) && body.size() >= 12) {
    const int per = word(8);
    // Unit 1: an inch, 2: a centimetre, 0: a shape of pixels only.
    if (per > 0 && (body[7] == 1 || body[7] == 2)) stated.dpi = per * (body[7] == 2 ? 2.54 : 1);
  }
}

}  // namespace

Stated jpeg_stated(Bytes file) {
  Stated stated;
  std::size_t at = 2;
  while (at + 4 <= file.size() && file[at] == 0xFF) {
    const std::uint8_t marker = file[at + 1];
    if (marker == 0xFF) {  // filling
      ++at;
      continue;
    }
    if (marker == kStartOfScan) break;
    const auto length = static_cast<std::size_t>(file[at + 2] << 8 | file[at + 3]);
    if (length < 2 || file.size() - at - 2 < length)
      refuse_damaged(PictureFormat::jpeg, "its header is cut off");
    take_segment(marker, file.subspan(at + 4, length - 2), stated);
    at += 2 + length;
  }
  if (stated.width_px == 0) refuse_damaged(PictureFormat::jpeg, "its size is missing");
  return stated;
}

Photo read_jpeg(const Job& job, const Stated& stated) {
  Decoder decoder(job);
  decoder.start(stated);
  job.check_memory(stated, decoder.decoder_bytes());
  decoder.prepare();
  // The decoder reduces by 2, 4 or 8; the rest is ours, to the same size as without its help.
  const auto size = RowSink::reduced(stated, job.at_most_px);
  RowSink sink({.width_px = decoder.width(), .height_px = decoder.height()}, {size.width, size.height});
  for (std::int64_t y = 0; y < decoder.height(); ++y) {
    if (y % 64 == 0) job.check_time();
    sink.add_row(decoder.next_row());
  }
  return sink.take();
}

}  // namespace haftwright::pictures
