// The photos of the sample bin: what a maker meets first must be as good as the program says that photos are.
#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

#include "haftwright/files/bin_file.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/photos/squared.hpp"
#include "haftwright/photos/traced.hpp"

using namespace haftwright;

namespace {

const std::filesystem::path kBin = HAFTWRIGHT_PROJECTS "/bin.json";
// In the printed frame, their x along its short side.
const std::set<std::string> kFramed{"bubinga_tile", "walnut_stub"};

double apart_mm(const Outline& a, const Outline& b) {
  double most = 0;
  for (const Vec2 p : polyline(a, 0.01)) most = std::max(most, b.nearest(p).distance_mm);
  for (const Vec2 p : polyline(b, 0.01)) most = std::max(most, a.nearest(p).distance_mm);
  return most;
}

template <class Use>
void each_photo(Use use) {
  const Bin bin = read_bin(kBin);
  for (const Offcut& offcut : bin.offcuts)
    for (const OffcutPhoto& photo : offcut.photos) {
      INFO(photo.file);
      use(offcut, photo, picture_folder(kBin) / photo.file);
    }
}

}  // namespace

TEST_CASE("the sample bin has photos of many offcuts, of a whole set of slices and of a lower face") {
  const Bin bin = read_bin(kBin);
  CHECK(missing_photos(bin, kBin).empty());
  std::set<std::string> offcuts;
  std::uintmax_t all = 0;
  bool lower = false;
  each_photo([&](const Offcut& offcut, const OffcutPhoto& photo, const std::filesystem::path& file) {
    offcuts.insert(offcut.id);
    lower = lower || photo.face == Face::lower;
    const std::uintmax_t size = std::filesystem::file_size(file);
    CHECK(size < 150'000);
    all += size;
  });
  CHECK(offcuts.size() >= 6);
  CHECK(lower);
  CHECK(all < 1'500'000);
  for (const Offcut& offcut : bin.offcuts)
    if (!offcut.matched_set.empty()) CHECK(offcuts.contains(offcut.id));
  CHECK_THAT(bin.note, Catch::Contains("rendered"));
}

TEST_CASE("the marks of the sample photos square them up") {
  each_photo([](const Offcut& offcut, const OffcutPhoto& photo, const std::filesystem::path& file) {
    const Squaring squaring = squaring_of(photo, picture_facts(file));
    REQUIRE(squaring.largest_residual_mm());
    CHECK(*squaring.largest_residual_mm() < 0.02);
    CHECK(largest_bound(squaring, photo.face, offcut.outline).total_mm() < 1.5);
  });
}

TEST_CASE("tracing the sample photos gives each outline back within the bound that it states") {
  std::size_t framed = 0;
  each_photo([&](const Offcut& offcut, const OffcutPhoto& photo, const std::filesystem::path& file) {
    TraceRequest request;
    request.face = photo.face;
    request.face_above_marks_mm = photo.face_above_marks_mm;
    request.thickness_mm = offcut.thickness_mm;
    if (kFramed.contains(offcut.id)) {
      request.scale = PrintedFrame{};
      ++framed;
    } else {
      request.scale = TypedMarks{photo.marks};
      request.camera_height_mm = photo.camera_height_mm;
      request.lower_left_mm.reset();
    }
    const TracedOffcut found = traced(file, request);
    CHECK(found.quality == TraceQuality::clear);
    const double off = apart_mm(Outline(found.outline), Outline(offcut.outline));
    CAPTURE(off, found.bound_mm(), found.side_seen_mm, found.advice);
    CHECK(off < found.bound_mm());
    CHECK(off < 1.2);
  });
  CHECK(framed == kFramed.size());
}
