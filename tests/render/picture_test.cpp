// Pictures show the handle: how large, which parts, of what.
#include "haftwright/render/picture.hpp"

#include <stb/stb_image.h>

#include "drawn_scene.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

TEST_CASE("the silhouette is as large as the handle's projection, within a pixel") {
  for (const std::uint64_t seed : {2u, 3u, 7u, 12u, 19u}) {
    Scene scene(test::random_design(seed));
    // From the handle itself, not from its mesh.
    const Handle& handle = scene.handle;
    const auto low = [&](auto of) {
      return std::min({of(handle.tang), of(handle.left.finished), of(handle.right.finished)});
    };
    const auto high = [&](auto of) {
      return std::max({of(handle.tang), of(handle.left.finished), of(handle.right.finished)});
    };
    const double low_x = low([](const Outline& o) { return o.bounds().low.x; });
    const double high_x = high([](const Outline& o) { return o.bounds().high.x; });
    const double low_y = low([](const Outline& o) { return o.bounds().low.y; });
    const double high_y = high([](const Outline& o) { return o.bounds().high.y; });
    for (const StandardView which : {StandardView::left, StandardView::right, StandardView::spine,
                                     StandardView::belly, StandardView::front, StandardView::butt}) {
      const Camera camera = scene.camera(which);
      const Pixels all = all_of(find_bodies(scene.draw(camera, flat()), scene.preview.bodies.size()));
      const Vec2 a = *project(camera, {low_x, low_y, scene.preview.low.z}, kSize);
      const Vec2 b = *project(camera, {high_x, high_y, scene.preview.high.z}, kSize);
      INFO("seed " << seed << ", " << name_of(which));
      CHECK(std::abs(all.low.x - std::min(a.x, b.x)) <= 1);
      CHECK(std::abs(all.high.x - std::max(a.x, b.x)) <= 1);
      CHECK(std::abs(all.low.y - std::min(a.y, b.y)) <= 1);
      CHECK(std::abs(all.high.y - std::max(a.y, b.y)) <= 1);
    }
  }
}

TEST_CASE("each side shows its own parts, as large as they are") {
  Scene scene(sample());
  for (const Which side : {Which::left, Which::right}) {
    const Camera camera = scene.camera(side == Which::left ? StandardView::left : StandardView::right);
    const double square = pixels_per_mm(camera) * pixels_per_mm(camera);
    const std::vector<Pixels> found = find_bodies(scene.draw(camera, flat()), scene.preview.bodies.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
      const Body& body = scene.preview.bodies[i];
      INFO(body.name << " from the " << name_of(side));
      switch (body.id.kind) {
        case BodyKind::pin: {
          const double radius = scene.handle.pins[body.id.index].diameter_mm / 2;
          CHECK(found[i].count == Approx(3.14159 * radius * radius * square).epsilon(0.08));
          break;
        }
        case BodyKind::tang:
          CHECK(found[i].count > 0);
          break;
        case BodyKind::liner:  // under the pieces: only through the gap round a pin
          CHECK(found[i].count < 40);
          break;
        default:
          if (body.id.side != side)
            CHECK(found[i].count == 0);
          else
            CHECK(found[i].count > 0.9 * square);
      }
    }
    // The strip is 1.5 mm wide all across the handle.
    const auto strip = found[index_of(scene.preview, {BodyKind::spacer, side, 0, 0})];
    CHECK(strip.high.x - strip.low.x == Approx(1.5 * pixels_per_mm(camera)).margin(1.01));
  }
}

TEST_CASE("each material can be told by its colour") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::left);
  const Picture ids = scene.draw(camera, flat());
  for (const Backdrop backdrop : {Backdrop::light, Backdrop::dark, Backdrop::clear}) {
    const Picture picture = scene.draw(camera, {.backdrop = backdrop});
    const auto mean = [&](const BodyId& id) {
      return mean_colour(picture, ids, index_of(scene.preview, id));
    };
    const Vec3 ebony = mean({BodyKind::piece, Which::left, 0});
    const Vec3 maple = mean({BodyKind::piece, Which::left, 1});
    const Vec3 brass = mean({BodyKind::spacer, Which::left, 0, 0});
    const Vec3 steel = mean({.kind = BodyKind::tang});
    CHECK(ebony.y < 70);
    CHECK(maple.y > 130);
    CHECK(maple.x > maple.z + 20);  // warm
    CHECK(brass.x > brass.z + 40);  // yellow
    CHECK(brass.y > brass.z + 30);
    CHECK(std::abs(steel.x - steel.z) < 25);  // grey
    CHECK(steel.y > 90);
  }
}

TEST_CASE("wood has a figure, and along the fibre it changes slowly") {
  Design design = sample();
  design.left.pieces[0].material = "black_walnut";
  design.left.finish = {.thickness_mm = {{0, 9}}};
  Scene scene(std::move(design));
  Camera camera = scene.camera(StandardView::left);
  camera.target = {24, 4, 0};
  camera.height_mm = 12;
  const Picture picture = scene.draw(camera, {});
  double along = 0;
  double across = 0;
  for (int y = 0; y + 6 < picture.height; ++y)
    for (int x = 0; x + 6 < picture.width; ++x) {
      const auto green = [&](int dx, int dy) { return static_cast<double>(picture.at(x + dx, y + dy)[1]); };
      along += std::abs(green(6, 0) - green(0, 0));
      across += std::abs(green(0, 6) - green(0, 0));
    }
  CHECK(across > 1.5 * along);
  CHECK(across / (picture.width * picture.height) > 0.5);
}

TEST_CASE("the exploded view draws the parts apart") {
  Scene scene(sample());
  const auto rows = [&](double exploded) {
    const Camera camera = scene.camera(StandardView::spine, exploded);
    SceneOptions options = flat();
    options.exploded = exploded;
    return find_bodies(scene.draw(camera, options), scene.preview.bodies.size());
  };
  const auto at = [&](const std::vector<Pixels>& found, const BodyId& id) {
    return found[index_of(scene.preview, id)];
  };
  const std::vector<Pixels> apart = rows(1);
  // From above, the left side at the bottom: right piece, right liner, tang, left liner, left piece.
  const BodyId order[] = {{BodyKind::piece, Which::right, 1},
                          {BodyKind::liner, Which::right, 0},
                          {.kind = BodyKind::tang},
                          {BodyKind::liner, Which::left, 0},
                          {BodyKind::piece, Which::left, 1}};
  for (std::size_t i = 1; i < std::size(order); ++i) {
    CHECK(at(apart, order[i - 1]).count > 0);
    CHECK(at(apart, order[i]).low.y > at(apart, order[i - 1]).high.y + 4);
  }
  // Along the handle: front piece, strip, rear piece.
  for (const Which side : {Which::left, Which::right}) {
    const Pixels front = at(apart, {BodyKind::piece, side, 0});
    const Pixels strip = at(apart, {BodyKind::spacer, side, 0, 0});
    const Pixels rear = at(apart, {BodyKind::piece, side, 1});
    CHECK(strip.low.x > front.high.x + 4);
    CHECK(rear.low.x > strip.high.x + 4);
  }
  const std::vector<Pixels> together = rows(0);
  CHECK(at(together, {BodyKind::spacer, Which::left, 0, 0}).low.x <=
        at(together, {BodyKind::piece, Which::left, 0}).high.x + 1);
}

TEST_CASE("a PNG reads back as the same picture") {
  Scene scene(sample());
  const Picture picture =
      scene.draw(scene.camera(StandardView::three_quarter, 0, true), {.backdrop = Backdrop::clear});
  const std::string bytes = png_bytes(picture);
  int width = 0;
  int height = 0;
  int channels = 0;
  std::uint8_t* pixels = stbi_load_from_memory(reinterpret_cast<const stbi_uc*>(bytes.data()),
                                               static_cast<int>(bytes.size()), &width, &height, &channels, 0);
  REQUIRE(pixels);
  CHECK(width == picture.width);
  CHECK(height == picture.height);
  CHECK(channels == 4);
  CHECK(std::equal(picture.rgba.begin(), picture.rgba.end(), pixels));
  stbi_image_free(pixels);
  CHECK_THROWS_AS(png_bytes(Picture{}), std::invalid_argument);
  CHECK_THROWS_AS(png_bytes(Picture{2, 2, {0, 0, 0, 0}}), std::invalid_argument);
}

TEST_CASE("a picture put together from rows is that drawn at once") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::three_quarter, 0.3, true);
  for (const SceneMode mode : {SceneMode::materials, SceneMode::mismatch, SceneMode::flat_ids}) {
    SceneOptions options;
    options.mode = mode;
    const Picture whole = scene.draw(camera, options);
    std::vector<std::uint8_t> from_bottom;
    for (int bottom = 0; bottom < kSize.height; bottom += 150) {
      scene.view.draw_rows(camera, options, kSize, {bottom, std::min(150, kSize.height - bottom)});
      const Picture part = scene.view.read();
      CHECK(part.width == kSize.width);
      from_bottom.insert(from_bottom.begin(), part.rgba.begin(), part.rgba.end());
    }
    // The rasterizer rounds places by where they lie in the rows: a few pixels on rims come out a little
    // otherwise.
    REQUIRE(from_bottom.size() == whole.rgba.size());
    std::size_t other = 0;
    for (std::size_t i = 0; i < from_bottom.size(); ++i)
      if (std::abs(int{from_bottom[i]} - int{whole.rgba[i]}) > 8) ++other;
    CHECK(other < whole.rgba.size() / 500);
  }
  CHECK_THROWS_AS(scene.view.draw_rows(camera, {}, kSize, {300, 200}), RenderError);
}
