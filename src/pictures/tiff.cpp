#include <tiffio.h>

#include <algorithm>
#include <array>
#include <cstdarg>
#include <cstring>
#include <memory>

#include "decode.hpp"

namespace haftwright::pictures {
namespace {

// What the library may ask for in one piece beside the file itself: tables of tags.
constexpr std::int64_t kTableBytes = 32 << 20;

/// A file in memory, as the library reads it.
struct Source {
  Bytes file;
  std::uint64_t at = 0;
  std::string failure;
  bool warned = false;
};

tmsize_t read_some(thandle_t handle, void* to, tmsize_t size) {
  auto& source = *static_cast<Source*>(handle);
  if (size <= 0 || source.at >= source.file.size()) return 0;
  const auto count =
      std::min(static_cast<std::uint64_t>(size), static_cast<std::uint64_t>(source.file.size()) - source.at);
  std::memcpy(to, source.file.data() + source.at, static_cast<std::size_t>(count));
  source.at += count;
  return static_cast<tmsize_t>(count);
}
toff_t seek(thandle_t handle, toff_t offset, int whence) {
  auto& source = *static_cast<Source*>(handle);
  if (whence == SEEK_CUR) offset += source.at;
  if (whence == SEEK_END) offset += source.file.size();
  return source.at = offset;
}
int hear_error(TIFF*, void* user, const char*, const char* format, va_list values) {
  auto& source = *static_cast<Source*>(user);
  char text[200];
  std::vsnprintf(text, sizeof text, format, values);
  if (source.failure.empty()) source.failure = text;
  return 1;
}
int hear_warning(TIFF*, void* user, const char*, const char*, va_list) {
  static_cast<Source*>(user)->warned = true;
  return 1;
}

using Handle = std::unique_ptr<TIFF, decltype(&TIFFClose)>;

Handle opened(Source& source) {
  const std::unique_ptr<TIFFOpenOptions, decltype(&TIFFOpenOptionsFree)> options(TIFFOpenOptionsAlloc(),
                                                                                 TIFFOpenOptionsFree);
  if (!options) throw std::bad_alloc();
  TIFFOpenOptionsSetMaxSingleMemAlloc(options.get(), static_cast<tmsize_t>(source.file.size()) + kTableBytes);
  TIFFOpenOptionsSetErrorHandlerExtR(options.get(), hear_error, &source);
  TIFFOpenOptionsSetWarningHandlerExtR(options.get(), hear_warning, &source);
  // m: read it, do not map it.
  Handle tiff(TIFFClientOpenExt(
                  "picture", "rm", &source, read_some,
                  [](thandle_t, void*, tmsize_t) -> tmsize_t { return 0; }, seek, [](thandle_t) { return 0; },
                  [](thandle_t handle) -> toff_t { return static_cast<Source*>(handle)->file.size(); },
                  nullptr, nullptr, options.get()),
              TIFFClose);
  if (!tiff) refuse_damaged(PictureFormat::tiff, source.failure.empty() ? "its header" : source.failure);
  return tiff;
}

template <class Value>
Value tag(TIFF* tiff, std::uint32_t name, Value otherwise) {
  Value value{};
  return TIFFGetFieldDefaulted(tiff, name, &value) == 1 ? value : otherwise;
}

Stated stated_by(TIFF* tiff) {
  Stated stated;
  stated.width_px = tag<std::uint32_t>(tiff, TIFFTAG_IMAGEWIDTH, 0);
  stated.height_px = tag<std::uint32_t>(tiff, TIFFTAG_IMAGELENGTH, 0);
  const auto orientation = tag<std::uint16_t>(tiff, TIFFTAG_ORIENTATION, 1);
  stated.orientation = orientation >= 1 && orientation <= 8 ? orientation : 1;
  const auto per = tag<float>(tiff, TIFFTAG_XRESOLUTION, 0);
  const auto unit = tag<std::uint16_t>(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_INCH);
  if (per > 0 && unit != RESUNIT_NONE) stated.dpi = double{per} * (unit == RESUNIT_CENTIMETER ? 2.54 : 1);
  return stated;
}

/// How pixels are stored.
struct Layout {
  std::uint16_t bits = 0;
  std::uint16_t samples = 0;
  std::uint16_t photometric = 0;
  bool planar = false;
  bool tiled = false;
  bool has_alpha = false;
  bool alpha_is_multiplied = false;
  std::int64_t width = 0;
  std::int64_t height = 0;
  std::int64_t block_width = 0;  ///< of a tile, or the picture's own
  std::int64_t block_height = 0;
  std::array<std::array<std::uint8_t, 3>, 256> palette{};

  int planes() const { return planar ? samples : 1; }
  std::int64_t samples_a_plane() const { return planar ? 1 : samples; }
  std::int64_t block_row_bytes() const { return (block_width * samples_a_plane() * bits + 7) / 8; }
  std::int64_t blocks_across() const { return (width + block_width - 1) / block_width; }
  std::int64_t row_bytes() const { return block_row_bytes() * blocks_across(); }
};

void read_palette(TIFF* tiff, Layout& layout) {
  std::uint16_t* parts[3] = {};
  if (layout.bits > 8 || TIFFGetField(tiff, TIFFTAG_COLORMAP, &parts[0], &parts[1], &parts[2]) != 1)
    refuse_damaged(PictureFormat::tiff, "its palette is missing");
  const std::size_t count = std::size_t{1} << layout.bits;
  // Some programs write 8 bits where the format has 16.
  const bool small = std::all_of(std::begin(parts), std::end(parts), [count](const std::uint16_t* part) {
    return std::all_of(part, part + count, [](std::uint16_t value) { return value < 256; });
  });
  for (std::size_t i = 0; i < count; ++i)
    for (std::size_t c = 0; c < 3; ++c)
      layout.palette[i][c] = static_cast<std::uint8_t>(small ? parts[c][i] : (parts[c][i] + 128) / 257);
}

void check_kind(TIFF* tiff, const Layout& layout, std::uint16_t compression) {
  constexpr std::array<std::uint16_t, 9> read{
      COMPRESSION_NONE,     COMPRESSION_LZW,       COMPRESSION_ADOBE_DEFLATE,
      COMPRESSION_DEFLATE,  COMPRESSION_PACKBITS,  COMPRESSION_JPEG,
      COMPRESSION_CCITTRLE, COMPRESSION_CCITTFAX3, COMPRESSION_CCITTFAX4};
  if (std::find(read.begin(), read.end(), compression) == read.end() || !TIFFIsCODECConfigured(compression))
    refuse_kind(PictureFormat::tiff, "compression " + std::to_string(compression));
  if (tag<std::uint16_t>(tiff, TIFFTAG_SAMPLEFORMAT, SAMPLEFORMAT_UINT) != SAMPLEFORMAT_UINT)
    refuse_kind(PictureFormat::tiff, "numbers with a sign or a point");
  const bool bits_good = layout.bits == 8 || layout.bits == 16 ||
                         (layout.samples == 1 && (layout.bits == 1 || layout.bits == 2 || layout.bits == 4));
  if (!bits_good) refuse_kind(PictureFormat::tiff, std::to_string(layout.bits) + " bits");
  std::uint16_t wanted = 0;
  switch (layout.photometric) {
    case PHOTOMETRIC_MINISWHITE:
    case PHOTOMETRIC_MINISBLACK:
    case PHOTOMETRIC_PALETTE:
      wanted = 1;
      break;
    case PHOTOMETRIC_RGB:
      wanted = 3;
      break;
    case PHOTOMETRIC_SEPARATED:
      wanted = 4;
      break;
    default:
      refuse_kind(PictureFormat::tiff, "colours of kind " + std::to_string(layout.photometric));
  }
  if (layout.samples < wanted || layout.samples > wanted + 1)
    refuse_kind(PictureFormat::tiff, std::to_string(layout.samples) + " values a pixel");
}

Layout layout_of(TIFF* tiff, const Stated& stated) {
  Layout layout;
  layout.width = stated.width_px;
  layout.height = stated.height_px;
  layout.bits = tag<std::uint16_t>(tiff, TIFFTAG_BITSPERSAMPLE, 1);
  layout.samples = tag<std::uint16_t>(tiff, TIFFTAG_SAMPLESPERPIXEL, 1);
  layout.photometric = tag<std::uint16_t>(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_SEPARATED);
  layout.planar = layout.samples > 1 && tag<std::uint16_t>(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG) ==
                                            PLANARCONFIG_SEPARATE;
  layout.tiled = TIFFIsTiled(tiff) != 0;
  const auto compression = tag<std::uint16_t>(tiff, TIFFTAG_COMPRESSION, COMPRESSION_NONE);
  if (compression == COMPRESSION_JPEG && layout.photometric == PHOTOMETRIC_YCBCR && !layout.planar) {
    TIFFSetField(tiff, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
    layout.photometric = PHOTOMETRIC_RGB;
  }
  check_kind(tiff, layout, compression);
  if (layout.photometric == PHOTOMETRIC_PALETTE) read_palette(tiff, layout);
  std::uint16_t extra = 0;
  std::uint16_t* kinds = nullptr;
  if (TIFFGetFieldDefaulted(tiff, TIFFTAG_EXTRASAMPLES, &extra, &kinds) == 1 && extra == 1 && kinds) {
    layout.has_alpha = kinds[0] != EXTRASAMPLE_UNSPECIFIED;
    layout.alpha_is_multiplied = kinds[0] == EXTRASAMPLE_ASSOCALPHA;
  }
  layout.block_width = layout.tiled ? tag<std::uint32_t>(tiff, TIFFTAG_TILEWIDTH, 0) : layout.width;
  layout.block_height =
      layout.tiled ? tag<std::uint32_t>(tiff, TIFFTAG_TILELENGTH, 0)
                   : std::min<std::int64_t>(tag<std::uint32_t>(tiff, TIFFTAG_ROWSPERSTRIP, 1), layout.height);
  if (layout.block_width < 1 || layout.block_height < 1)
    refuse_damaged(PictureFormat::tiff, "its strips or tiles have no size");
  return layout;
}

/// One band of strips or tiles at a time, made into rows.
class Bands {
 public:
  Bands(TIFF* tiff, Source& source, const Layout& layout) : tiff_(tiff), source_(source), layout_(layout) {}

  static std::uint64_t bytes(const Layout& layout) {
    const auto band = static_cast<std::uint64_t>(layout.row_bytes() * layout.block_height) *
                      static_cast<std::uint64_t>(layout.planes());
    return band + static_cast<std::uint64_t>(layout.block_row_bytes() * layout.block_height);
  }

  void load(std::int64_t first_row) {
    const std::int64_t rows = std::min(layout_.block_height, layout_.height - first_row);
    data_.resize(static_cast<std::size_t>(layout_.row_bytes() * layout_.block_height * layout_.planes()));
    source_.warned = false;
    source_.failure.clear();
    for (int plane = 0; plane < layout_.planes(); ++plane) {
      std::uint8_t* to = &data_[plane_start(plane)];
      if (layout_.tiled)
        load_tiles(first_row, rows, plane, to);
      else
        load_strip(first_row, rows, plane, to);
    }
  }

  /// One row of the band as sRGB.
  void convert(std::int64_t row_in_band, std::uint8_t* rgb) const {
    const auto offset = static_cast<std::size_t>(row_in_band * layout_.row_bytes());
    for (std::int64_t x = 0; x < layout_.width; ++x, rgb += 3) {
      const auto value = [&](int sample) { return sample_at(offset, x, sample); };
      switch (layout_.photometric) {
        case PHOTOMETRIC_RGB:
          for (int c = 0; c < 3; ++c) rgb[c] = value(c);
          break;
        case PHOTOMETRIC_SEPARATED:
          for (int c = 0; c < 3; ++c)
            rgb[c] = static_cast<std::uint8_t>(((255 - value(c)) * (255 - value(3)) + 127) / 255);
          break;
        case PHOTOMETRIC_PALETTE:
          std::copy_n(layout_.palette[value(0)].begin(), 3, rgb);
          break;
        default:
          std::fill_n(rgb, 3,
                      layout_.photometric == PHOTOMETRIC_MINISWHITE
                          ? static_cast<std::uint8_t>(255 - value(0))
                          : value(0));
      }
      if (layout_.has_alpha) put_alpha(value(layout_.samples - 1), rgb);
    }
  }

 private:
  std::size_t plane_start(int plane) const {
    return static_cast<std::size_t>(layout_.row_bytes() * layout_.block_height * plane);
  }

  void need(bool whole) const {
    if (whole && !source_.warned) return;
    refuse_damaged(PictureFormat::tiff, source_.failure.empty() ? "it breaks off" : source_.failure);
  }

  void load_strip(std::int64_t first_row, std::int64_t rows, int plane, std::uint8_t* to) {
    const auto size = static_cast<tmsize_t>(rows * layout_.row_bytes());
    const std::uint32_t strip =
        TIFFComputeStrip(tiff_, static_cast<std::uint32_t>(first_row), static_cast<std::uint16_t>(plane));
    need(TIFFReadEncodedStrip(tiff_, strip, to, size) == size);
  }

  void load_tiles(std::int64_t first_row, std::int64_t rows, int plane, std::uint8_t* to) {
    const std::int64_t line = layout_.block_row_bytes();
    tile_.resize(static_cast<std::size_t>(line * layout_.block_height));
    const auto size = static_cast<tmsize_t>(tile_.size());
    for (std::int64_t i = 0; i < layout_.blocks_across(); ++i) {
      const std::uint32_t tile =
          TIFFComputeTile(tiff_, static_cast<std::uint32_t>(i * layout_.block_width),
                          static_cast<std::uint32_t>(first_row), 0, static_cast<std::uint16_t>(plane));
      need(TIFFReadEncodedTile(tiff_, tile, tile_.data(), size) == size);
      for (std::int64_t y = 0; y < rows; ++y)
        std::copy_n(tile_.data() + y * line, line, to + y * layout_.row_bytes() + i * line);
    }
  }

  std::uint8_t sample_at(std::size_t offset, std::int64_t x, int sample) const {
    const std::uint8_t* row = &data_[plane_start(layout_.planar ? sample : 0) + offset];
    const auto index =
        static_cast<std::size_t>(x * layout_.samples_a_plane() + (layout_.planar ? 0 : sample));
    if (layout_.bits == 8) return row[index];
    if (layout_.bits == 16) {
      std::uint16_t value = 0;
      std::memcpy(&value, row + 2 * index, 2);
      return static_cast<std::uint8_t>((value + 128) / 257);
    }
    const std::size_t bit = index * layout_.bits;
    const int most = (1 << layout_.bits) - 1;
    const int value = row[bit / 8] >> (8 - layout_.bits - static_cast<int>(bit % 8)) & most;
    // A palette is looked up by the number itself.
    return static_cast<std::uint8_t>(layout_.photometric == PHOTOMETRIC_PALETTE ? value : value * 255 / most);
  }

  void put_alpha(std::uint8_t alpha, std::uint8_t* rgb) const {
    if (!layout_.alpha_is_multiplied) {
      const std::uint8_t rgba[4] = {rgb[0], rgb[1], rgb[2], alpha};
      return put_over_white(rgba, rgb);
    }
    for (int c = 0; c < 3; ++c) rgb[c] = static_cast<std::uint8_t>(std::min(255, rgb[c] + 255 - alpha));
  }

  TIFF* tiff_;
  Source& source_;
  const Layout& layout_;
  std::vector<std::uint8_t> data_;
  std::vector<std::uint8_t> tile_;
};

}  // namespace

Stated tiff_stated(Bytes file) {
  Source source{file, 0, {}, false};
  return stated_by(opened(source).get());
}

Photo read_tiff(const Job& job, const Stated& stated) {
  Source source{job.file, 0, {}, false};
  const Handle tiff = opened(source);
  const Layout layout = layout_of(tiff.get(), stated);
  // Compressed strips are read whole before they are unpacked.
  job.check_memory(stated, Bands::bytes(layout) + job.file.size());
  const std::uint64_t stored = layout.tiled ? TIFFTileSize64(tiff.get()) : TIFFStripSize64(tiff.get());
  if (stored != static_cast<std::uint64_t>(layout.block_row_bytes() * layout.block_height))
    refuse_kind(PictureFormat::tiff, "strips or tiles of an unusual size");
  Bands bands(tiff.get(), source, layout);
  RowSink sink(stated, RowSink::reduced(stated, job.at_most_px));
  std::vector<std::uint8_t> rgb(static_cast<std::size_t>(stated.width_px) * 3);
  for (std::int64_t y = 0; y < layout.height; ++y) {
    const std::int64_t in_band = y % layout.block_height;
    if (in_band == 0) {
      job.check_time();
      bands.load(y);
    }
    bands.convert(in_band, rgb.data());
    sink.add_row(rgb.data());
  }
  return sink.take();
}

}  // namespace haftwright::pictures
