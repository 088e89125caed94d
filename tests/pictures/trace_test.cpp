// Outlines traced on rendered pictures whose true outline is known.
//
// jpeglib.h wants size_t and FILE before it.
#include <cstddef>
#include <cstdio>
// In this order.
#include <jpeglib.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <functional>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/pictures/read_picture.hpp"
#include "haftwright/pictures/trace.hpp"
#include "support/random.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// As a camera would store it: at that quality, with colours at half the resolution.
Photo through_jpeg(const Photo& photo, int quality) {
  jpeg_compress_struct info{};
  jpeg_error_mgr errors{};
  info.err = jpeg_std_error(&errors);
  jpeg_create_compress(&info);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&info, &bytes, &size);
  info.image_width = static_cast<JDIMENSION>(photo.width_px);
  info.image_height = static_cast<JDIMENSION>(photo.height_px);
  info.input_components = 3;
  info.in_color_space = JCS_RGB;
  jpeg_set_defaults(&info);
  jpeg_set_quality(&info, quality, TRUE);
  jpeg_start_compress(&info, TRUE);
  while (info.next_scanline < info.image_height) {
    auto* row =
        const_cast<JSAMPROW>(photo.rgb.data() + std::size_t{3} * info.next_scanline * info.image_width);
    jpeg_write_scanlines(&info, &row, 1);
  }
  jpeg_finish_compress(&info);
  jpeg_destroy_compress(&info);
  Photo read = read_picture(bytes, size);
  free(bytes);
  return read;
}

struct Scene {
  Vec3 ground{0.75, 0.75, 0.73};
  Vec3 wood{0.28, 0.15, 0.07};
  double figure = 0.25;  ///< of the wood, dark and light
  double blur_px = 0.7;  ///< standard deviation, either way
  double noise = 0.01;   ///< of a pixel's light
  double uneven = 0.3;   ///< how much darker one side is lit
  double shadow = 0.5;   ///< how dark the shadow beside the piece is; 0: none
  double shadow_mm = 4;  ///< how far it falls
  double shadow_soft_mm = 2;
  double limit_mm = 0.1;
  int jpeg_quality = 90;  ///< 0: not compressed
  Vec2 size_mm{90, 60};
  double px_per_mm = 10;
};

/// Light of the plane: `piece` with `holes` in it lies on the ground.
Photo rendered(const Outline& piece, const std::vector<Outline>& holes, const Scene& scene, Random& random) {
  const int w = static_cast<int>(scene.size_mm.x * scene.px_per_mm);
  const int h = static_cast<int>(scene.size_mm.y * scene.px_per_mm);
  Photo photo{w, h, {}};
  const Vec2 towards = glm::normalize(Vec2{1, -0.7});
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      const Vec2 mm{(x + 0.5) / scene.px_per_mm, scene.size_mm.y - (y + 0.5) / scene.px_per_mm};
      // The share of the piece in the pixel, from the distance of its edge: the integral of the blur's bell
      // across a straight edge. At corners that is not exact, by less than the blur.
      const auto share = [&](const Outline& outline) {
        const double depth_px = outline.depth_mm(mm) * scene.px_per_mm;
        const double wide = std::hypot(scene.blur_px, 0.29);  // a pixel's own width
        return 0.5 * (1 + std::erf(depth_px / (wide * std::sqrt(2.0))));
      };
      double wood_share = share(piece);
      for (const Outline& hole : holes) wood_share *= 1 - share(hole);
      const double lit = 1 - scene.uneven * mm.x / scene.size_mm.x;
      const double in_shadow =
          scene.shadow == 0
              ? 0
              : 0.5 * (1 + std::erf(piece.depth_mm(mm - towards * scene.shadow_mm) / scene.shadow_soft_mm));
      const double figure = 1 + scene.figure * std::sin(mm.y * 2.1 + 1.5 * std::sin(mm.x * 0.13)) *
                                    (0.6 + 0.4 * std::sin(mm.y * 7.3 + mm.x * 0.4));
      const Vec3 ground = scene.ground * (1 - scene.shadow * in_shadow);
      const Vec3 light = lit * (ground + wood_share * (scene.wood * figure - ground));
      for (int c = 0; c < 3; ++c) {
        // Three even numbers added up: nearly a bell.
        const double noise = random.between(-1, 1) + random.between(-1, 1) + random.between(-1, 1);
        photo.rgb.push_back(static_cast<std::uint8_t>(std::lround(
            255 * std::clamp(srgb_of_light(std::max(0.0, light[c] + scene.noise * noise)), 0.0, 1.0))));
      }
    }
  return scene.jpeg_quality > 0 ? through_jpeg(photo, scene.jpeg_quality) : photo;
}

/// How far one outline leaves another at most, either way.
double apart_mm(const Outline& a, const Outline& b) {
  double most = 0;
  for (const Vec2 p : polyline(a, 0.005)) most = std::max(most, b.nearest(p).distance_mm);
  for (const Vec2 p : polyline(b, 0.005)) most = std::max(most, a.nearest(p).distance_mm);
  for (const Edge& edge : a.edges())
    for (int i = 0; i <= 20; ++i) most = std::max(most, b.nearest(edge.point(i / 20.0)).distance_mm);
  for (const Edge& edge : b.edges())
    for (int i = 0; i <= 20; ++i) most = std::max(most, a.nearest(edge.point(i / 20.0)).distance_mm);
  return most;
}

Outline turned_by(const Outline& outline, double angle, Vec2 about) {
  std::vector<Node> nodes = outline.nodes();
  for (Node& node : nodes) {
    const Vec2 d = node.at - about;
    node.at = about + Vec2{d.x * std::cos(angle) - d.y * std::sin(angle),
                           d.x * std::sin(angle) + d.y * std::cos(angle)};
  }
  return Outline(nodes);
}

/// Pieces as they lie about: sawn blocks, one with a rounded end, one with a notch, a round, a worn one.
std::vector<Outline> pieces() {
  return {
      Outline({{{20, 18}, 0}, {{70, 18}, 0}, {{70, 42}, 0}, {{20, 42}, 0}}),
      Outline({{{18, 20}, 0}, {{64, 16}, 0.4}, {{66, 40}, 0}, {{30, 45}, 0}}),
      Outline({{{20, 15}, 0},
               {{70, 15}, 0},
               {{70, 45}, 0},
               {{52, 45}, 0},
               {{52, 32}, 0},
               {{38, 32}, 0},
               {{38, 45}, 0},
               {{20, 45}, 0}}),
      Outline({{{28, 30}, 1}, {{62, 30}, 1}}),
      Outline({{{22, 18}, 0.05}, {{66, 16}, 0.3}, {{72, 28}, 0.1}, {{60, 44}, -0.08}, {{30, 42}, 0.4}}),
  };
}

Traced traced(const Photo& photo, const Scene& scene, std::optional<Vec2> seed = {}) {
  return trace(photo, {.px_per_mm = scene.px_per_mm, .upper_left_mm = {0, scene.size_mm.y}, .seed_mm = seed});
}

double checked(const Outline& piece, const std::vector<Outline>& holes, const Scene& scene, Random& random) {
  const Traced found = traced(rendered(piece, holes, scene, random), scene);
  REQUIRE(found.outlines.size() == 1);
  const TracedOutline& outline = found.outlines.front();
  REQUIRE_FALSE(find_fault(outline.outer));
  REQUIRE(outline.holes.size() == holes.size());
  double most = apart_mm(Outline(outline.outer), piece);
  for (const auto& hole : outline.holes) {
    double nearest = 1e9;
    for (const Outline& known : holes) nearest = std::min(nearest, apart_mm(Outline(hole), known));
    most = std::max(most, nearest);
  }
  CHECK(outline.largest_fit_mm < 0.2);
  CHECK_FALSE(outline.cut_by_picture);
  return most;
}

}  // namespace

TEST_CASE("rendered pieces are traced within 0.1 mm: blur, noise, JPEG, shadow, uneven light") {
  Scene blue;
  blue.ground = {0.05, 0.12, 0.3};
  blue.wood = {0.6, 0.42, 0.22};
  Scene green;
  green.ground = {0.08, 0.3, 0.1};
  // As bright as the wood: only colour tells them apart, and JPEG keeps that at half the resolution.
  green.limit_mm = 0.25;
  Scene soft;
  soft.blur_px = 1.8;
  soft.shadow = 0;
  Scene fine;
  fine.px_per_mm = 16;
  fine.size_mm = {90, 60};
  fine.jpeg_quality = 80;
  Scene noisy;
  noisy.noise = 0.03;
  const Scene scenes[] = {{}, blue, green, soft, fine, noisy};
  Random random(51);
  const Seeds seeds = seeds_to_try("HAFTWRIGHT_TRACES", {1, 1, 20}, 0);
  for (const Scene& scene : scenes) {
    double worst = 0;
    std::size_t which = 0;
    for (const Outline& piece : pieces()) {
      ++which;
      // Every scene with three of the five, with one under sanitizers, with all in a long run.
      const std::size_t place = (which + static_cast<std::size_t>(&scene - scenes)) % 5;
      if (place > (std::getenv("HAFTWRIGHT_SHORT") ? 0u : std::getenv("HAFTWRIGHT_LONG") ? 4u : 2u)) continue;
      for (std::uint64_t i = 0; i < seeds.count; ++i) {
        INFO("scene " << (&scene - scenes) << ", piece " << which << ", case " << i);
        const Outline turned = turned_by(piece, random.between(-0.2, 0.2), {45, 30});
        const double off = checked(turned, {}, scene, random);
        CHECK(off < scene.limit_mm);
        worst = std::max(worst, off);
      }
    }
    CHECK(worst < scene.limit_mm);
  }
}

TEST_CASE("holes are found, and so is each of several pieces") {
  Random random(52);
  Scene scene;
  const std::vector<Outline> holes{Outline({{{30, 30}, 1}, {{36, 30}, 1}}),
                                   Outline({{{50, 28}, 1}, {{60, 28}, 1}})};
  CHECK(checked(pieces()[0], holes, scene, random) < 0.1);
  // Two pieces: white where either is.
  scene.shadow = 0;
  const Outline left({{{10, 15}, 0}, {{35, 15}, 0}, {{35, 45}, 0}, {{10, 45}, 0}});
  const Outline right({{{50, 20}, 0}, {{80, 20}, 0}, {{80, 40}, 0}, {{50, 40}, 0}});
  const Photo a = rendered(left, {}, scene, random);
  const Photo b = rendered(right, {}, scene, random);
  Photo both = a;
  for (std::size_t i = 0; i < both.rgb.size(); ++i) both.rgb[i] = std::min(a.rgb[i], b.rgb[i]);
  const Traced all = traced(both, scene);
  REQUIRE(all.outlines.size() == 2);
  CHECK(all.outlines[0].area_mm2 > all.outlines[1].area_mm2);
  CHECK(all.outlines[0].area_mm2 == Approx(25 * 30).epsilon(0.01));
  const Traced one = traced(both, scene, Vec2{65, 30});
  REQUIRE(one.outlines.size() == 1);
  CHECK(apart_mm(Outline(one.outlines[0].outer), right) < 0.1);
  CHECK_THROWS_AS(traced(both, scene, Vec2{42, 30}), PictureError);
  CHECK_THROWS_AS(traced(both, scene, Vec2{420, 30}), PictureError);
}

TEST_CASE("a picture that shows no piece, or not enough, says so") {
  Random random(53);
  Scene scene;
  scene.wood = scene.ground;
  scene.figure = 0;
  scene.shadow = 0;
  try {
    traced(rendered(pieces()[0], {}, scene, random), scene);
    FAIL("found something on an even picture");
  } catch (const PictureError& error) {
    CHECK_THAT(error.what(), Catch::Contains("can't be told apart") && Catch::Contains("blue or green"));
  }
  // One that the picture cuts off is told, not refused.
  scene = {};
  const Outline cut({{{20, 18}, 0}, {{95, 18}, 0}, {{95, 42}, 0}, {{20, 42}, 0}});
  const Traced found = traced(rendered(cut, {}, scene, random), scene);
  CHECK(found.outlines.front().cut_by_picture);
  CHECK(found.quality == TraceQuality::doubtful);
  CHECK_THAT(found.advice, Catch::Contains("border"));
  CHECK_THROWS_AS(trace(Photo{2, 2, std::vector<std::uint8_t>(12)}, {}), PictureError);
  CHECK_THROWS_AS(trace(Photo{}, {.px_per_mm = 0}), std::invalid_argument);
}
