// Photos of offcuts, squared up beside the window.
#include "haftwright/session/offcut_photos.hpp"

#include <catch2/catch.hpp>

#include "bell.hpp"
#include "haftwright/files/safe_write.hpp"
#include "temporary_folder.hpp"

namespace haftwright {
namespace {

/// 40 x 20 mm at 4 pixels a millimetre: left half red, right half blue.
Photo two_colours() {
  Photo photo{160, 80, {}};
  for (int y = 0; y < photo.height_px; ++y)
    for (int x = 0; x < photo.width_px; ++x)
      for (const int value : x < 80 ? std::array{200, 40, 40} : std::array{40, 40, 200})
        photo.rgb.push_back(static_cast<std::uint8_t>(value));
  return photo;
}

Offcut offcut_with(Face face) {
  Offcut offcut{"plank", "", "olive", rectangle({40, 20}), 20};
  OffcutPhoto photo{"plank.png", face, {}};
  // In a picture of the lower face x runs the other way.
  const auto mark = [&](double x_px, double y_px, double x_mm, double y_mm) {
    photo.marks.push_back({{x_px, y_px}, {face == Face::upper ? x_mm : 40 - x_mm, y_mm}});
  };
  mark(0, 0, 0, 20);
  mark(160, 0, 40, 20);
  mark(160, 80, 40, 0);
  mark(0, 80, 0, 0);
  offcut.photos = {photo};
  return offcut;
}

bool red_at(const SquaredFace& face, double x_mm) {
  const Vec2 px = (Vec2{x_mm, 10} - Vec2{face.box_mm.low.x, face.box_mm.low.y}) * face.px_per_mm;
  const auto colour = face.photo.at(static_cast<int>(px.x), face.photo.height_px / 2);
  return colour[0] > colour[2];
}

}  // namespace

TEST_CASE("a photo is there after a while, in the offcut's frame, the same until the offcut differs") {
  const test::TemporaryFolder folder;
  write_file_safely(folder / "plank.png", png_bytes(two_colours()));
  test::Bell bell;
  OffcutPhotos photos([&] { bell.ring(); });
  for (const Face face : {Face::upper, Face::lower}) {
    Offcut offcut = offcut_with(face);
    CHECK(photos.face(folder.path(), offcut) == nullptr);
    REQUIRE(bell.until([&] { return !photos.busy(); }));
    const auto squared = photos.face(folder.path(), offcut);
    REQUIRE(squared);
    CHECK(squared->photo.width_px <= OffcutPhotos::kMostPixels + 1);
    CHECK(red_at(*squared, 5) == (face == Face::upper));
    CHECK(red_at(*squared, 35) == (face == Face::lower));
    CHECK(photos.face(folder.path(), offcut) == squared);
    offcut.name = "of no matter";
    CHECK(photos.face(folder.path(), offcut) == squared);
    offcut.outline = rectangle({30, 20});
    CHECK(photos.face(folder.path(), offcut) == nullptr);
    REQUIRE(bell.until([&] { return !photos.busy(); }));
    CHECK(photos.face(folder.path(), offcut)->box_mm.size().x == Approx(30).margin(0.2));
  }
}

TEST_CASE("what is missing, no picture or without marks stays away and keeps nothing else from coming") {
  const test::TemporaryFolder folder;
  write_file_safely(folder / "plank.png", png_bytes(two_colours()));
  write_file_safely(folder / "text.png", "no picture");
  test::Bell bell;
  OffcutPhotos photos([&] { bell.ring(); });
  Offcut missing = offcut_with(Face::upper), text = missing, bare = missing;
  missing.photos[0].file = "gone.png";
  text.photos[0].file = "text.png";
  bare.photos[0].marks.clear();
  const Offcut good = offcut_with(Face::upper);
  for (const Offcut& offcut : {missing, text, bare, good})
    CHECK(photos.face(folder.path(), offcut) == nullptr);
  REQUIRE(bell.until([&] { return !photos.busy(); }));
  for (const Offcut& offcut : {missing, text, bare}) CHECK(photos.face(folder.path(), offcut) == nullptr);
  CHECK_FALSE(photos.busy());
  CHECK(photos.face(folder.path(), good));
}

}  // namespace haftwright
