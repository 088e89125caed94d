// Files that other programs wrote: every pixel, both ways up and on their sides.
#include <catch2/catch.hpp>
#include <fstream>
#include <set>

#include "haftwright/pictures/read_picture.hpp"
#include "picture_files.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// How a file's pixels differ from the base picture's: on average, and most, leaving out a border round each
/// of the four fields, where JPEG smears colours.
struct Difference {
  double mean = 0;
  int most = 0;
};
Difference difference(const Photo& photo, const Photo& base, int border) {
  Difference out;
  int count = 0;
  for (int y = 0; y < base.height_px; ++y)
    for (int x = 0; x < base.width_px; ++x) {
      const int in_field_x = x % 24;
      const int in_field_y = y % 16;
      if (std::min(in_field_x, 23 - in_field_x) < border || std::min(in_field_y, 15 - in_field_y) < border)
        continue;
      for (std::size_t c = 0; c < 3; ++c) {
        const int off = std::abs(photo.at(x, y)[c] - base.at(x, y)[c]);
        out.mean += off;
        out.most = std::max(out.most, off);
        ++count;
      }
    }
  out.mean /= count;
  return out;
}

void check_same(const std::string& name, int most, int border = 0) {
  INFO(name);
  const Photo base = base_picture();
  const Photo photo = read_picture(picture_file(name));
  REQUIRE(photo.width_px == base.width_px);
  REQUIRE(photo.height_px == base.height_px);
  const Difference off = difference(photo, base, border);
  CHECK(off.most <= most);
  CHECK(off.mean <= most / 3.0);
  const PictureFacts facts = picture_facts(picture_file(name));
  CHECK(facts.width_px == 48);
  CHECK(facts.height_px == 32);
}

}  // namespace

TEST_CASE("lossless files of four encoders give every pixel as it was") {
  for (const char* name : {"netpbm_rgb.png", "netpbm_interlaced.png", "pngcrush_rgb.png", "ffmpeg_rgb.png",
                           "imagemagick_16bit.png", "exif_orientation_6.png", "netpbm_strips.tif",
                           "tiffcp_lzw.tif", "tiffcp_tiles.tif", "tiffcp_planes.tif",
                           "tiffcp_plane_tiles.tif", "tiffcp_big.tif", "tiffcp_big_endian.tif",
                           "imagemagick_16bit.tif", "imagemagick_orientation_6.tif", "ffmpeg_packbits.tif"})
    check_same(name, 0);
}

TEST_CASE("files with losses give the picture") {
  for (const char* name : {"cjpeg_baseline.jpg", "cjpeg_progressive.jpg", "imagemagick_300dpi.jpg",
                           "ffmpeg_mjpeg.jpg", "tiffcp_jpeg_rgb.tif"})
    check_same(name, 16, 2);
  check_same("cjpeg_arithmetic.jpg", 16, 2);
  // Colours at half the resolution.
  check_same("cjpeg_restarts_420.jpg", 24, 4);
  check_same("tiffcp_jpeg.tif", 24, 4);
  // Ink: what the encoder made of the colours is its own matter, but not that red is red.
  check_same("imagemagick_cmyk.jpg", 16, 3);
  check_same("imagemagick_cmyk.tif", 3);
  check_same("imagemagick_palette.tif", 45);
  check_same("netpbm_palette.png", 45);
}

TEST_CASE("all eight orientations are seen the same way up") {
  for (int i = 1; i <= 8; ++i) {
    const std::string name = "orientation_" + std::to_string(i) + ".jpg";
    check_same(name, 16, 2);
    const PictureFacts facts = picture_facts(picture_file(name));
    CHECK(facts.orientation == i);
    // 26 mm for 36 x 24 mm: a diagonal of 43.27 mm for 57.69 pixels.
    REQUIRE(facts.focal_px);
    CHECK(*facts.focal_px == Approx(26 / std::hypot(36, 24) * std::hypot(48, 32)).epsilon(1e-9));
  }
}

TEST_CASE("a HEIC is read") {
  const Photo base = base_picture();
  const Photo photo = read_picture(picture_file("heif_enc.heic"));
  REQUIRE(photo.width_px == 96);
  REQUIRE(photo.height_px == 64);
  Photo small{48, 32, {}};
  for (int y = 0; y < 32; ++y)
    for (int x = 0; x < 48; ++x)
      for (const std::uint8_t value : photo.at(2 * x + 1, 2 * y + 1)) small.rgb.push_back(value);
  const Difference off = difference(small, base, 2);
  CHECK(off.mean < 4);
  CHECK(off.most < 20);
  const PictureFacts facts = picture_facts(picture_file("heif_enc.heic"));
  CHECK(facts.format == PictureFormat::heic);
  CHECK(facts.width_px == 96);
}

TEST_CASE("grey, one bit and clear pixels") {
  const Photo base = base_picture();
  for (const char* name : {"cjpeg_grey.jpg", "imagemagick_grey.png"}) {
    INFO(name);
    const Photo grey = read_picture(picture_file(name));
    for (int y = 4; y < 28; y += 5)
      for (int x = 4; x < 44; x += 7) {
        const auto [r, g, b] = grey.at(x, y);
        CHECK((r == g && g == b));
        const auto of = base.at(x, y);
        // The weights of ITU-R BT.601 and BT.709 both lie within this of each other here.
        CHECK(std::abs(r - (0.299 * of[0] + 0.587 * of[1] + 0.114 * of[2])) < 30);
      }
  }
  for (const char* name : {"imagemagick_1bit.png", "imagemagick_fax4.tif"}) {
    INFO(name);
    const Photo bits = read_picture(picture_file(name));
    REQUIRE(bits.width_px == 48);
    std::set<std::uint8_t> values(bits.rgb.begin(), bits.rgb.end());
    CHECK(values == std::set<std::uint8_t>{0, 255});
    CHECK(bits.at(40, 24)[0] == 255);  // yellow is light
    CHECK(bits.at(4, 24)[0] == 0);     // blue is dark
  }
  CHECK(read_picture(picture_file("imagemagick_1bit.png")) ==
        read_picture(picture_file("imagemagick_fax4.tif")));
  const Photo alpha = read_picture(picture_file("imagemagick_alpha.png"));
  for (int y = 0; y < 32; ++y) {
    CHECK(alpha.at(5, y) == base.at(5, y));
    CHECK(alpha.at(40, y) == std::array<std::uint8_t, 3>{255, 255, 255});
  }
}

TEST_CASE("what the files state is found") {
  CHECK(picture_facts(picture_file("imagemagick_300dpi.jpg")).dpi == Approx(300));
  CHECK(picture_facts(picture_file("imagemagick_orientation_6.tif")).dpi == Approx(600));
  CHECK(picture_facts(picture_file("imagemagick_orientation_6.tif")).orientation == 6);
  CHECK(picture_facts(picture_file("exif_orientation_6.png")).orientation == 6);
  CHECK_FALSE(picture_facts(picture_file("cjpeg_baseline.jpg")).dpi);
  CHECK(picture_facts(picture_file("tiffcp_tiles.tif")).format == PictureFormat::tiff);
}

TEST_CASE("what is read can be written and read again") {
  const Photo base = base_picture();
  const std::string bytes = png_bytes(base, 300);
  const auto* data = reinterpret_cast<const std::uint8_t*>(bytes.data());
  CHECK(read_picture(data, bytes.size()) == base);
  // In whole pixels a metre.
  CHECK(picture_facts(data, bytes.size()).dpi == Approx(300).epsilon(1e-4));
  CHECK_THROWS_AS(png_bytes(Photo{}), std::invalid_argument);
  CHECK_THROWS_AS(png_bytes(base, 0), std::invalid_argument);
}

TEST_CASE("a picture is reduced while it is read, in linear light") {
  const Photo base = base_picture();
  for (const char* name :
       {"netpbm_rgb.png", "netpbm_interlaced.png", "tiffcp_tiles.tif", "cjpeg_baseline.jpg",
        "cjpeg_progressive.jpg", "orientation_6.jpg", "heif_enc.heic"})
    for (const int most : {32, 24, 7, 1}) {
      INFO(name << " to " << most);
      const Photo photo = read_picture(picture_file(name), {}, most);
      const int width = most;
      const int height = std::max(1, static_cast<int>(std::lround(most * 2 / 3.0)));
      REQUIRE(photo.width_px == width);
      REQUIRE(photo.height_px == height);
      // Each pixel is the mean light of what it covers: worked out with rays instead of shares.
      const int rays = 48;
      for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
          double light = 0;
          for (int i = 0; i < rays * rays; ++i) {
            const auto column = static_cast<int>((x + (i % rays + 0.5) / rays) * 48 / width);
            const auto row = static_cast<int>((y + (i / rays + 0.5) / rays) * 32 / height);
            light += light_of_srgb(base.at(column, row)[1] / 255.0) / (rays * rays);
          }
          // A JPEG is reduced by its own decoder first, which averages stored values.
          const bool lossless = std::string(name).find(".jpg") == std::string::npos && name[0] != 'h';
          CHECK(std::abs(photo.at(x, y)[1] - 255 * srgb_of_light(light)) < (lossless ? 1.5 : 20));
        }
    }
}
