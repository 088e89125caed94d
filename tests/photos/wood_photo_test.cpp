// A face of an offcut as a picture of its wood: dots of known place on a rendered photo.
#include "haftwright/photos/wood_photo.hpp"

#include <catch2/catch.hpp>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/photos/squared.hpp"
#include "support/synthetic_camera.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

const std::vector<Node> kPiece{{{0, 0}}, {{78, 0}}, {{78, 22}, 0.25}, {{50, 34}}, {{0, 40}}};
const std::vector<Vec2> kDots{{8, 6}, {30, 30}, {55, 10}, {70, 18}};
constexpr double kDotMm = 1.2;

SyntheticCamera camera_over(Vec2 target) {
  SyntheticCamera camera;
  camera.width_px = 1600;
  camera.height_px = 1200;
  camera.focal_px = 2600;
  camera.ahead = glm::normalize(Vec3{0.05, -0.03, -1});
  camera.eye_mm = Vec3{target, 0} - 420.0 * camera.ahead;
  camera.right = glm::normalize(glm::cross(camera.ahead, Vec3{0.02, 1, 0}));
  camera.down = glm::cross(camera.ahead, camera.right);
  return camera;
}

/// Reddish wood with dark dots on a blue ground; `face` as the picture shows it.
Photo photo_of(const SyntheticCamera& camera, Face face) {
  const std::vector<Node> piece = shown(face, kPiece);
  const Outline wood(piece);
  return render(camera, 0, 2, [&](Vec2 mm) {
    if (!wood.contains(mm)) return Vec3{0.05, 0.1, 0.7};
    for (const Vec2 dot : kDots)
      if (glm::distance(shown(face, dot), mm) < kDotMm) return Vec3{0.02, 0.02, 0.02};
    return Vec3{0.45, 0.25, 0.12};
  });
}

struct Taken {
  Taken(Face face, Vec2 target, Bounds within = {{-8, -8}, {88, 48}})
      : camera(camera_over(face == Face::upper ? target : Vec2{-target.x, target.y})) {
    picture = photo_of(camera, face);
    facts.width_px = camera.width_px;
    facts.height_px = camera.height_px;
    marked.face = face;
    for (const Vec2 mm : corners_of(within.low, within.high))
      marked.marks.push_back({camera.project(shown(face, mm)), mm});
  }
  SyntheticCamera camera;
  Photo picture;
  PictureFacts facts;
  OffcutPhoto marked;
};

}  // namespace

TEST_CASE("every dot is where it is on the wood, on either face, and no ground is left") {
  for (const Face face : {Face::upper, Face::lower}) {
    const Taken taken(face, {39, 20});
    const WoodPhoto wood = wood_photo(taken.picture, taken.facts, taken.marked, kPiece);
    INFO("face " << static_cast<int>(face));
    // No finer than the photo is: 2600 / 420 pixels a millimetre.
    CHECK(wood.px_per_mm == Approx(2600 / 420.0).epsilon(0.03));
    const Photo& photo = wood.picture.photo;
    std::vector<Vec2> sums(kDots.size(), Vec2{0, 0});
    std::vector<int> counts(kDots.size());
    for (int y = 0; y < photo.height_px; ++y)
      for (int x = 0; x < photo.width_px; ++x) {
        const auto colour = photo.at(x, y);
        if (wood.picture.shown[static_cast<std::size_t>(y * photo.width_px + x)] > 0)
          REQUIRE(colour[2] <= colour[0] + 3);
        for (std::size_t i = 0; i < kDots.size(); ++i)
          if (const Vec2 px{x + 0.5, y + 0.5};
              glm::distance(px, wood.px_of(kDots[i])) < 3 * wood.px_per_mm && colour[0] < 110) {
            sums[i] += px;
            ++counts[i];
          }
      }
    for (std::size_t i = 0; i < kDots.size(); ++i) {
      REQUIRE(counts[i] > 60);
      CHECK(glm::distance(sums[i] / static_cast<double>(counts[i]), wood.px_of(kDots[i])) <
            0.15 * wood.px_per_mm);
    }
    CHECK(wood.picture.shown.front() == 0);
    CHECK(wood.picture.shown.back() == 0);
  }
}

TEST_CASE("wood that is not on the photo is not shown") {
  // The picture's right edge runs through the wood.
  const Taken taken(Face::upper, {-80, 20}, {{-60, -20}, {30, 60}});
  const WoodPhoto wood = wood_photo(taken.picture, taken.facts, taken.marked, kPiece);
  const auto shown_at = [&](Vec2 mm) {
    const Vec2 px = wood.px_of(mm);
    return wood.picture
        .shown[static_cast<std::size_t>(px.y) * static_cast<std::size_t>(wood.picture.photo.width_px) +
               static_cast<std::size_t>(px.x)];
  };
  const Vec2 edge = taken.camera.plane_place({1600, 600});
  REQUIRE(edge.x > 20);
  REQUIRE(edge.x < 60);
  CHECK(shown_at({edge.x - 3, 20}) == 255);
  CHECK(shown_at({edge.x + 3, 20}) == 0);
  CHECK(shown_at({75, 10}) == 0);
}
