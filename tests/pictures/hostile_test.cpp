// Files that are no pictures, and pictures spoilt on purpose: a PictureError or a picture, in bounded time
// and memory, and nothing else.
#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <functional>

#include "haftwright/pictures/read_picture.hpp"
#include "picture_files.hpp"
#include "support/random.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

using Bytes = std::vector<std::uint8_t>;

std::string refusal(const Bytes& bytes, const PictureLimits& limits = {}) {
  try {
    read_picture(bytes.data(), bytes.size(), limits);
  } catch (const PictureError& error) {
    return error.what();
  }
  return "";
}
std::string refusal(const std::filesystem::path& path, const PictureLimits& limits = {}) {
  try {
    read_picture(path, limits);
  } catch (const PictureError& error) {
    return error.what();
  }
  return "";
}

Bytes text(const std::string& words) {
  return {words.begin(), words.end()};
}

void put_word(Bytes& bytes, std::size_t at, std::uint32_t value, unsigned size, bool big_endian) {
  for (unsigned i = 0; i < size && at + i < bytes.size(); ++i)
    bytes[at + i] = static_cast<std::uint8_t>(value >> (8 * (big_endian ? size - 1 - i : i)));
}

std::size_t place_of(const Bytes& bytes, const std::string& words) {
  const Bytes wanted = text(words);
  const auto found = std::search(bytes.begin(), bytes.end(), wanted.begin(), wanted.end());
  if (found == bytes.end()) throw std::logic_error("not in the file");
  return static_cast<std::size_t>(found - bytes.begin());
}

std::uint32_t crc_of(const std::uint8_t* data, std::size_t size) {
  std::uint32_t crc = 0xFFFFFFFFu;
  for (std::size_t i = 0; i < size; ++i) {
    crc ^= data[i];
    for (int k = 0; k < 8; ++k) crc = (crc >> 1) ^ (crc & 1 ? 0xEDB88320u : 0);
  }
  return ~crc;
}

/// Puts the checksums of a PNG right, so that what was changed reaches further than them.
void renew_checksums(Bytes& png) {
  for (std::size_t at = 8; at + 12 <= png.size();) {
    const std::size_t length = std::size_t{png[at]} << 24 | std::size_t{png[at + 1]} << 16 |
                               std::size_t{png[at + 2]} << 8 | png[at + 3];
    if (length > png.size() - at - 12) return;
    put_word(png, at + 8 + length, crc_of(&png[at + 4], length + 4), 4, true);
    at += 12 + length;
  }
}

/// The place of a tag's entry in the first directory of a little-endian TIFF.
std::size_t tiff_entry(const Bytes& tiff, unsigned tag) {
  const std::size_t directory = tiff[4] | std::size_t{tiff[5]} << 8 | std::size_t{tiff[6]} << 16;
  const std::size_t count = tiff[directory] | std::size_t{tiff[directory + 1]} << 8;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t at = directory + 2 + 12 * i;
    if ((tiff[at] | unsigned{tiff[at + 1]} << 8) == tag) return at;
  }
  throw std::logic_error("no such tag");
}

Bytes spoilt(Bytes bytes, Random& random) {
  const std::size_t times = random.count(1, 6);
  for (std::size_t i = 0; i < times && !bytes.empty(); ++i) {
    // Headers are small: half of the changes go there.
    const std::size_t at =
        random.index(random.chance(0.5) ? std::min<std::size_t>(bytes.size(), 200) : bytes.size());
    switch (random.index(6)) {
      case 0:
        bytes[at] = static_cast<std::uint8_t>(bytes[at] ^ 1u << random.index(8));
        break;
      case 1:
        bytes[at] = static_cast<std::uint8_t>(random.bits());
        break;
      case 2: {
        const std::uint32_t values[] = {0, 1, 0x7F, 0xFF, 0x7FFF, 0xFFFF, 0x7FFFFFFF, 0xFFFFFFFF, 0x80000000};
        put_word(bytes, at, random.pick<std::uint32_t>(values), random.chance(0.5) ? 2 : 4,
                 random.chance(0.5));
        break;
      }
      case 3:
        bytes.resize(at);
        break;
      case 4: {
        const std::size_t count = random.count(1, 40);
        const Bytes piece(bytes.begin() + static_cast<std::ptrdiff_t>(at),
                          bytes.begin() + static_cast<std::ptrdiff_t>(std::min(bytes.size(), at + count)));
        bytes.insert(bytes.begin() + static_cast<std::ptrdiff_t>(random.index(bytes.size())), piece.begin(),
                     piece.end());
        break;
      }
      default:
        bytes.erase(
            bytes.begin() + static_cast<std::ptrdiff_t>(at),
            bytes.begin() + static_cast<std::ptrdiff_t>(std::min(bytes.size(), at + random.count(1, 8))));
    }
  }
  return bytes;
}

std::int64_t most_memory_kb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

}  // namespace

TEST_CASE("what is no picture is said in plain words") {
  CHECK_THAT(refusal(text("#!/bin/sh\necho no picture\n")),
             Catch::Contains("must be a JPEG, PNG, TIFF or HEIC"));
  CHECK_THAT(refusal(Bytes{}), Catch::Contains("empty"));
  CHECK_THAT(refusal(picture_file("no_such_file.jpg")), Catch::Contains("no such picture file"));
  CHECK_THAT(refusal(std::filesystem::path(HAFTWRIGHT_PICTURES)), Catch::Contains("folder"));
  CHECK_THAT(refusal(std::filesystem::path("/dev/zero")), Catch::Contains("device"));
  CHECK_THAT(refusal(picture_file("README.md")), Catch::Contains("no picture that Haftwright reads"));
  CHECK_THAT(refusal(picture_file("imagemagick_float.tif")),
             Catch::Contains("does not read") && Catch::Contains("TIFF"));
  CHECK_THAT(refusal(picture_file("cjpeg_baseline.jpg"), {.file_bytes = 500}),
             Catch::Contains("larger than"));
  CHECK_THAT(refusal(text(std::string("\0\0\0\x18", 4) + "ftypmp42....")), Catch::Contains("film"));
}

TEST_CASE("sizes over the limits are refused from the header alone") {
  const auto jpeg = bytes_of(picture_file("cjpeg_baseline.jpg"));
  auto huge = jpeg;
  const std::size_t frame = place_of(jpeg, "\xFF\xC0");
  put_word(huge, frame + 5, 65'500, 2, true);
  put_word(huge, frame + 7, 65'500, 2, true);
  CHECK_THAT(refusal(huge), Catch::Contains("65500 x 65500"));
  auto png = bytes_of(picture_file("netpbm_rgb.png"));
  put_word(png, 16, 0x7FFFFFFF, 4, true);
  put_word(png, 20, 0x7FFFFFFF, 4, true);
  renew_checksums(png);
  CHECK_THAT(refusal(png), Catch::Contains("2147483647 x 2147483647"));
  auto tiff = bytes_of(picture_file("netpbm_strips.tif"));
  const std::size_t width = tiff_entry(tiff, 256);
  put_word(tiff, width + 2, 4, 2, false);  // a number of 32 bits
  put_word(tiff, width + 8, 200'000, 4, false);
  CHECK_THAT(refusal(tiff), Catch::Contains("200000 x 32"));
  // 200 megapixels.
  huge = jpeg;
  put_word(huge, frame + 5, 12'500, 2, true);
  put_word(huge, frame + 7, 16'000, 2, true);
  CHECK_THAT(refusal(huge), Catch::Contains("150 million in all"));
  for (const char* name : {"cjpeg_baseline.jpg", "netpbm_rgb.png", "netpbm_strips.tif", "heif_enc.heic"}) {
    CHECK_THAT(refusal(picture_file(name), {.pixels = 1000}), Catch::Contains("pixels"));
    CHECK_THAT(refusal(picture_file(name), {.side_px = 40}), Catch::Contains("40 a side"));
    CHECK_THROWS_AS(picture_facts(picture_file(name), {.pixels = 1000}), PictureError);
    CHECK_THAT(refusal(picture_file(name), {.memory_bytes = 4000}), Catch::Contains("memory"));
  }
  CHECK_THAT(refusal(picture_file("cjpeg_progressive.jpg"), {.time = std::chrono::milliseconds(-1)}),
             Catch::Contains("seconds"));
}

TEST_CASE("headers made to ask for much memory or time get neither") {
  const std::int64_t before = most_memory_kb();
  const auto start = std::chrono::steady_clock::now();
  // Within the limits of size, with nothing behind it: 24,000 x 6,000 pixels of 3 bytes.
  auto jpeg = bytes_of(picture_file("cjpeg_progressive.jpg"));
  const std::size_t frame = place_of(jpeg, "\xFF\xC2");
  put_word(jpeg, frame + 5, 6'000, 2, true);
  put_word(jpeg, frame + 7, 24'000, 2, true);
  CHECK_THAT(refusal(jpeg, {.memory_bytes = 64 << 20}), Catch::Contains("memory"));
  auto tiff = bytes_of(picture_file("netpbm_strips.tif"));
  put_word(tiff, tiff_entry(tiff, 277) + 8, 65'535, 4, false);  // values a pixel
  CHECK_FALSE(refusal(tiff).empty());
  auto tiles = bytes_of(picture_file("tiffcp_tiles.tif"));
  for (const unsigned side : {322u, 323u}) put_word(tiles, tiff_entry(tiles, side) + 8, 65'520, 4, false);
  CHECK_FALSE(refusal(tiles).empty());
  // A directory that names itself as the next.
  auto ring = bytes_of(picture_file("netpbm_strips.tif"));
  const std::size_t directory = ring[4] | std::size_t{ring[5]} << 8 | std::size_t{ring[6]} << 16;
  const std::size_t count = ring[directory] | std::size_t{ring[directory + 1]} << 8;
  put_word(ring, directory + 2 + 12 * count, static_cast<std::uint32_t>(directory), 4, false);
  CHECK(refusal(ring).empty());
  // A part of a PNG that states a gigabyte.
  auto part = bytes_of(picture_file("exif_orientation_6.png"));
  put_word(part, place_of(part, "eXIf") - 4, 0x60000000, 4, true);
  refusal(part);  // either way; it must only take no memory
  // Two headers.
  auto twice = bytes_of(picture_file("netpbm_rgb.png"));
  Bytes header(twice.begin() + 8, twice.begin() + 33);
  put_word(header, 8, 4000, 4, true);
  twice.insert(twice.begin() + 8, header.begin(), header.end());
  renew_checksums(twice);
  CHECK_FALSE(refusal(twice).empty());
  // A palette shorter than what its pixels name.
  auto palette = bytes_of(picture_file("netpbm_palette.png"));
  const std::size_t colours = place_of(palette, "PLTE");
  const std::size_t length = palette[colours - 1];
  palette.erase(palette.begin() + static_cast<std::ptrdiff_t>(colours + 7),
                palette.begin() + static_cast<std::ptrdiff_t>(colours + 4 + length));
  put_word(palette, colours - 4, 3, 4, true);
  renew_checksums(palette);
  refusal(palette);  // either way; it must only end well
  // Scans without end: the one of a progressive picture again and again.
  Bytes scans = bytes_of(picture_file("cjpeg_progressive.jpg"));
  const std::size_t first = place_of(scans, "\xFF\xDA");
  const Bytes scan(scans.begin() + static_cast<std::ptrdiff_t>(first), scans.end() - 2);
  for (int i = 0; i < 200; ++i) scans.insert(scans.end() - 2, scan.begin(), scan.end());
  CHECK_FALSE(refusal(scans).empty());
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(10));
  CHECK(most_memory_kb() - before < 400'000);
}

TEST_CASE("a file that breaks off is damaged, not half a picture") {
  for (const char* name : {"cjpeg_baseline.jpg", "cjpeg_progressive.jpg", "netpbm_rgb.png",
                           "netpbm_interlaced.png", "netpbm_strips.tif", "tiffcp_lzw.tif", "heif_enc.heic"}) {
    Bytes bytes = bytes_of(picture_file(name));
    bytes.resize(bytes.size() * 2 / 3);
    INFO(name);
    CHECK_FALSE(refusal(bytes).empty());
  }
  // Data changed in the middle, the frame whole.
  Bytes jpeg = bytes_of(picture_file("cjpeg_restarts_420.jpg"));
  const std::size_t scan = place_of(jpeg, "\xFF\xDA");
  put_word(jpeg, scan + 20, 0xFFD90000u, 4, true);
  CHECK_THAT(refusal(jpeg), Catch::Contains("damaged"));
}

TEST_CASE("spoilt pictures come out as a picture or as a PictureError") {
  std::vector<std::pair<std::string, Bytes>> files;
  for (const auto& entry : std::filesystem::directory_iterator(HAFTWRIGHT_PICTURES)) {
    const std::string ending = entry.path().extension().string();
    if (ending == ".jpg" || ending == ".png" || ending == ".tif" || ending == ".heic")
      files.emplace_back(entry.path().filename().string(), bytes_of(entry.path()));
  }
  REQUIRE(files.size() > 30);
  std::sort(files.begin(), files.end());
  const PictureLimits limits{.pixels = 4'000'000,
                             .side_px = 4000,
                             .memory_bytes = 64 << 20,
                             .time = std::chrono::milliseconds(5000)};
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_SPOILT_PICTURES", {400, 3000, 40'000}, 0);
  const std::int64_t before = most_memory_kb();
  std::uint64_t read = 0;
  std::uint64_t refused = 0;
  for (std::uint64_t i = 0; i < seeds.count; ++i) {
    Random random(seeds.first + i);
    const auto& [name, whole] = files[random.index(files.size())];
    Bytes bytes = spoilt(whole, random);
    if (name.ends_with(".png") && random.chance(0.7)) renew_checksums(bytes);
    INFO(name << ", seed " << seeds.first + i);
    const auto start = std::chrono::steady_clock::now();
    try {
      const Photo photo = read_picture(bytes.data(), bytes.size(), limits, random.chance(0.2) ? 20 : 0);
      REQUIRE(photo.width_px > 0);
      REQUIRE(photo.rgb.size() ==
              static_cast<std::size_t>(photo.width_px) * static_cast<std::size_t>(photo.height_px) * 3);
      ++read;
    } catch (const PictureError& error) {
      REQUIRE(std::string(error.what()).size() > 20);
      ++refused;
    }
    REQUIRE(std::chrono::steady_clock::now() - start < std::chrono::seconds(8));
    // The limit, and what a sanitizer holds back before it frees.
    REQUIRE(most_memory_kb() - before < 700'000);
  }
  // Some changes do no harm, most do.
  CHECK(read > seeds.count / 50);
  CHECK(refused > seeds.count / 4);
}
