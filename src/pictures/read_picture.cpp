#include "haftwright/pictures/read_picture.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <new>
#include <string>
#include <string_view>

#include "decode.hpp"

namespace haftwright {

using namespace pictures;

namespace {

constexpr std::string_view kNoPicture =
    "The file is no picture that Haftwright reads: it must be a JPEG, PNG, TIFF or HEIC.";
/// Of film 36 mm wide and 24 mm high.
const double kFilmDiagonal_mm = std::hypot(36, 24);

bool starts_with(Bytes file, std::string_view text, std::size_t at = 0) {
  return file.size() >= at + text.size() &&
         std::equal(text.begin(), text.end(), file.begin() + static_cast<std::ptrdiff_t>(at),
                    [](char a, std::uint8_t b) { return static_cast<std::uint8_t>(a) == b; });
}

/// By the first bytes: what the name ends in means nothing.
PictureFormat format_of(Bytes file) {
  using namespace std::string_view_literals;
  if (file.empty()) throw PictureError("The file is empty: a JPEG, PNG, TIFF or HEIC is wanted.");
  if (starts_with(file, "\xFF\xD8\xFF")) return PictureFormat::jpeg;
  if (starts_with(file, "\x89PNG\r\n\x1A\n")) return PictureFormat::png;
  if (starts_with(file, "II*\0"sv) || starts_with(file, "MM\0*"sv) || starts_with(file, "II+\0"sv) ||
      starts_with(file, "MM\0+"sv))
    return PictureFormat::tiff;
  if (starts_with(file, "ftyp", 4)) {
    for (const auto brand : {"heic"sv, "heix"sv, "heim"sv, "heis"sv, "mif1"sv})
      if (starts_with(file, brand, 8)) return PictureFormat::heic;
    throw PictureError(
        "The file is a film or an unusual kind of still picture: save it as a JPEG, PNG, TIFF or HEIC.");
  }
  throw PictureError(std::string(kNoPicture));
}

Stated stated_in(Bytes file, PictureFormat format) {
  switch (format) {
    case PictureFormat::jpeg:
      return jpeg_stated(file);
    case PictureFormat::png:
      return png_stated(file);
    case PictureFormat::tiff:
      return tiff_stated(file);
    case PictureFormat::heic:
      break;
  }
  return heic_stated(file);
}

Photo decoded(const Job& job, PictureFormat format, const Stated& stated) {
  switch (format) {
    case PictureFormat::jpeg:
      return read_jpeg(job, stated);
    case PictureFormat::png:
      return read_png(job, stated);
    case PictureFormat::tiff:
      return read_tiff(job, stated);
    case PictureFormat::heic:
      break;
  }
  return read_heic(job, stated);
}

std::string megabytes(std::size_t bytes) {
  return std::to_string(bytes >> 20) + " MB";
}

std::vector<std::uint8_t> bytes_of_file(const std::filesystem::path& path, const PictureLimits& limits) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (!std::filesystem::exists(status)) throw PictureError("There is no such picture file.");
  // A pipe or a device might never end.
  if (!std::filesystem::is_regular_file(status))
    throw PictureError("That is a folder or a device: a picture file is wanted.");
  const auto size = std::filesystem::file_size(path, error);
  if (error) throw PictureError("The size of the picture file can't be found out: " + error.message() + ".");
  if (size > limits.file_bytes)
    throw PictureError("The picture file is larger than " + megabytes(limits.file_bytes) +
                       ": save it smaller, or as a JPEG.");
  std::ifstream in(path, std::ios::binary);
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(size));
  if (!in || !in.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(size)))
    throw PictureError("The picture file can't be read: look at its permissions.");
  return bytes;
}

}  // namespace

namespace pictures {

void refuse_damaged(PictureFormat format, const std::string& what) {
  throw PictureError(std::string("The ") + name_of(format) + " is damaged (" + what +
                     "): take it from the camera once more, or save it anew.");
}

void refuse_kind(PictureFormat format, const std::string& kind) {
  throw PictureError(std::string("The ") + name_of(format) + " is of a kind that Haftwright does not read (" +
                     kind + "): save it as a JPEG or as a PNG with 8 bits a colour.");
}

void Job::check_time() const {
  if (!is_late()) return;
  throw PictureError("The picture takes longer than " + std::to_string(limits.time.count() / 1000) +
                     " seconds to read: save it smaller, or anew as a JPEG.");
}

void Job::check_memory(const Stated& stated, std::uint64_t decoder_bytes) const {
  const auto size = RowSink::reduced(stated, at_most_px);
  const std::uint64_t picture = std::uint64_t{3} * static_cast<std::uint64_t>(size.width) *
                                static_cast<std::uint64_t>(size.height) * (stated.orientation > 1 ? 2 : 1);
  if (picture + decoder_bytes + file.size() <= limits.memory_bytes) return;
  throw PictureError("The picture needs more than " + megabytes(limits.memory_bytes) +
                     " of memory to read: save it with fewer pixels.");
}

void check_size(const Stated& stated, const PictureLimits& limits) {
  const std::string size = std::to_string(stated.width_px) + " x " + std::to_string(stated.height_px);
  if (stated.width_px < 1 || stated.height_px < 1)
    throw PictureError("The picture states a size of " + size + " pixels: it holds no picture.");
  if (std::max(stated.width_px, stated.height_px) > limits.side_px ||
      stated.width_px * stated.height_px > limits.pixels)
    throw PictureError("The picture has " + size + " pixels: at most " + std::to_string(limits.side_px) +
                       " a side and " + std::to_string(limits.pixels / 1'000'000) +
                       " million in all can be read.");
}

}  // namespace pictures

const char* name_of(PictureFormat format) {
  switch (format) {
    case PictureFormat::jpeg:
      return "JPEG";
    case PictureFormat::png:
      return "PNG";
    case PictureFormat::tiff:
      return "TIFF";
    case PictureFormat::heic:
      break;
  }
  return "HEIC";
}

PictureFacts picture_facts(const std::uint8_t* bytes, std::size_t size, const PictureLimits& limits) {
  const Bytes file(bytes, size);
  const PictureFormat format = format_of(file);
  const Stated stated = stated_in(file, format);
  check_size(stated, limits);
  const bool on_its_side = stated.orientation >= 5;
  PictureFacts facts{format,
                     static_cast<int>(on_its_side ? stated.height_px : stated.width_px),
                     static_cast<int>(on_its_side ? stated.width_px : stated.height_px),
                     stated.orientation,
                     stated.dpi,
                     {}};
  if (stated.focal_35mm)
    facts.focal_px = *stated.focal_35mm / kFilmDiagonal_mm *
                     std::hypot(static_cast<double>(stated.width_px), static_cast<double>(stated.height_px));
  return facts;
}

Photo read_picture(const std::uint8_t* bytes, std::size_t size, const PictureLimits& limits, int at_most_px) {
  if (size > limits.file_bytes)
    throw PictureError("The picture file is larger than " + megabytes(limits.file_bytes) +
                       ": save it smaller, or as a JPEG.");
  const Job job{Bytes(bytes, size), limits, at_most_px, std::chrono::steady_clock::now() + limits.time};
  try {
    const PictureFormat format = format_of(job.file);
    const Stated stated = stated_in(job.file, format);
    check_size(stated, limits);
    return turned(decoded(job, format, stated), stated.orientation);
  } catch (const std::bad_alloc&) {
    throw PictureError("There is not enough memory for the picture: save it with fewer pixels.");
  }
}

PictureFacts picture_facts(const std::filesystem::path& path, const PictureLimits& limits) {
  const auto bytes = bytes_of_file(path, limits);
  return picture_facts(bytes.data(), bytes.size(), limits);
}

Photo read_picture(const std::filesystem::path& path, const PictureLimits& limits, int at_most_px) {
  const auto bytes = bytes_of_file(path, limits);
  return read_picture(bytes.data(), bytes.size(), limits, at_most_px);
}

}  // namespace haftwright
