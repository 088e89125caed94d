#include "exif.hpp"

namespace haftwright::pictures {
namespace {

constexpr std::uint16_t kOrientation = 0x0112;
constexpr std::uint16_t kXResolution = 0x011A;
constexpr std::uint16_t kResolutionUnit = 0x0128;
constexpr std::uint16_t kExifDirectory = 0x8769;
constexpr std::uint16_t kFocalLength35mm = 0xA405;
constexpr std::uint16_t kMostEntries = 512;
constexpr std::uint16_t kShort = 3;
constexpr std::uint16_t kLong = 4;
constexpr std::uint16_t kRational = 5;

class Reader {
 public:
  Reader(Bytes bytes, bool big_endian) : bytes_(bytes), big_endian_(big_endian) {}

  std::optional<std::uint32_t> number(std::uint64_t at, unsigned size) const {
    if (at > bytes_.size() || bytes_.size() - at < size) return {};
    std::uint32_t value = 0;
    for (unsigned i = 0; i < size; ++i) {
      const std::uint64_t place = at + (big_endian_ ? i : size - 1 - i);
      value = value << 8 | bytes_[static_cast<std::size_t>(place)];
    }
    return value;
  }

 private:
  Bytes bytes_;
  bool big_endian_;
};

struct Entry {
  std::uint16_t tag = 0;
  std::uint16_t type = 0;
  std::uint64_t value_at = 0;
};

/// The single number of an entry.
std::optional<double> value_of(const Reader& reader, const Entry& entry) {
  if (entry.type == kShort) return reader.number(entry.value_at, 2);
  if (entry.type == kLong) return reader.number(entry.value_at, 4);
  if (entry.type != kRational) return {};
  const auto at = reader.number(entry.value_at, 4);
  if (!at) return {};
  const auto over = reader.number(*at, 4);
  const auto under = reader.number(std::uint64_t{*at} + 4, 4);
  if (!over || !under || *under == 0) return {};
  return double{static_cast<double>(*over)} / *under;
}

struct Resolution {
  std::optional<double> value;
  bool per_cm = false;
};

void take(const Reader& reader, const Entry& entry, Stated& stated, Resolution& resolution,
          std::optional<std::uint32_t>& exif_directory) {
  const auto value = value_of(reader, entry);
  if (!value) return;
  if (entry.tag == kOrientation && *value >= 1 && *value <= 8) stated.orientation = static_cast<int>(*value);
  if (entry.tag == kXResolution && *value > 0) resolution.value = value;
  if (entry.tag == kResolutionUnit) resolution.per_cm = *value == 3;
  if (entry.tag == kExifDirectory) exif_directory = static_cast<std::uint32_t>(*value);
  if (entry.tag == kFocalLength35mm && *value > 0) stated.focal_35mm = value;
}

}  // namespace

void take_exif(Bytes tiff, Stated& stated) {
  if (tiff.size() < 8) return;
  const bool big_endian = tiff[0] == 'M' && tiff[1] == 'M';
  if (!big_endian && !(tiff[0] == 'I' && tiff[1] == 'I')) return;
  const Reader reader(tiff, big_endian);
  if (reader.number(2, 2) != 42u) return;
  std::optional<std::uint32_t> directory = reader.number(4, 4);
  Resolution resolution;
  // The main directory, then the one of Exif: never a third, so that no ring of them can hold us up.
  for (int i = 0; i < 2 && directory; ++i) {
    std::optional<std::uint32_t> exif_directory;
    const auto count = reader.number(*directory, 2);
    if (!count || *count > kMostEntries) break;
    for (std::uint32_t k = 0; k < *count; ++k) {
      const std::uint64_t at = std::uint64_t{*directory} + 2 + 12 * std::uint64_t{k};
      const auto tag = reader.number(at, 2);
      const auto type = reader.number(at + 2, 2);
      if (!tag || !type || reader.number(at + 4, 4) != 1u) continue;
      take(reader, {static_cast<std::uint16_t>(*tag), static_cast<std::uint16_t>(*type), at + 8}, stated,
           resolution, exif_directory);
    }
    directory = exif_directory;
  }
  if (resolution.value && !stated.dpi) stated.dpi = *resolution.value * (resolution.per_cm ? 2.54 : 1);
}

}  // namespace haftwright::pictures
