// A coverage-guided fuzzer for picture files: a picture of the size that was stated, or a PictureError;
// anything else aborts. Limits are low, so that an input takes little time.
//    build-fuzz/tests/fuzz_pictures -max_total_time=600 -rss_limit_mb=2048 CORPUS tests/pictures/files
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "haftwright/pictures/read_picture.hpp"

using namespace haftwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const PictureLimits limits{.pixels = 1'000'000,
                             .side_px = 4000,
                             .memory_bytes = 64 << 20,
                             .time = std::chrono::milliseconds(5000)};
  try {
    const PictureFacts facts = picture_facts(data, size, limits);
    const Photo photo = read_picture(data, size, limits);
    const auto bytes =
        std::size_t{3} * static_cast<std::size_t>(photo.width_px) * static_cast<std::size_t>(photo.height_px);
    if (photo.width_px == facts.width_px && photo.height_px == facts.height_px && photo.rgb.size() == bytes)
      return 0;
    std::fprintf(stderr, "the picture has not the size that it states\n");
    std::abort();
  } catch (const PictureError&) {
    return 0;
  }
}
