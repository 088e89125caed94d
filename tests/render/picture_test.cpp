// Pictures show what they must show.
#include "haftwright/render/picture.hpp"

#include <stb/stb_image.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "haftwright/design/starters.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/render/offscreen.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr PictureSize kSize{640, 400};
using Rgb = std::array<std::uint8_t, 3>;

struct Pixels {
  int count = 0;
  Vec2 low{1e9, 1e9};
  Vec2 high{-1, -1};
  void add(int x, int y) {
    ++count;
    low = glm::min(low, Vec2{x, y});
    high = glm::max(high, Vec2{x + 1, y + 1});
  }
};

Rgb colour_at(const Picture& picture, int x, int y) {
  const auto pixel = picture.at(x, y);
  return {pixel[0], pixel[1], pixel[2]};
}

/// Where each body of the preview is in a picture of flat colours; nothing but their colours is in it.
std::vector<Pixels> find_bodies(const Picture& picture, std::size_t bodies) {
  std::map<Rgb, std::size_t> index;
  for (std::size_t i = 0; i < bodies; ++i) index[flat_id_colour(i)] = i;
  REQUIRE(index.size() == bodies);
  std::vector<Pixels> found(bodies);
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      if (picture.at(x, y)[3] == 0) continue;
      const auto body = index.find(colour_at(picture, x, y));
      REQUIRE(body != index.end());
      found[body->second].add(x, y);
    }
  return found;
}

Pixels all_of(const std::vector<Pixels>& bodies) {
  Pixels all;
  for (const Pixels& pixels : bodies) {
    all.count += pixels.count;
    all.low = glm::min(all.low, pixels.low);
    all.high = glm::max(all.high, pixels.high);
  }
  return all;
}

struct Scene {
  explicit Scene(Design made)
      : design(std::move(made)), handle(lay_out(design)), preview(build_preview(design, handle)) {
    view.set_preview(preview, pair_joint_lines(handle));
  }
  Camera camera(StandardView which, double exploded = 0, bool perspective = false) const {
    Camera made = standard_camera(which, perspective);
    fit(made, preview, exploded, kSize);
    return made;
  }
  Picture draw(const Camera& from, const SceneOptions& options) {
    view.draw(from, options, kSize);
    return view.read();
  }
  Design design;
  Handle handle;
  Preview preview;
  OffscreenContext context;
  SceneView view;
};

SceneOptions flat() {
  return {.mode = SceneMode::flat_ids, .backdrop = Backdrop::clear};
}

/// Two woods, a brass strip, a liner and three pins a side.
Design sample() {
  Design design = starter_design(starter_outline(StraightTang{}), 4, LengthUnit::millimetre);
  design.left.pieces[0].material = "gaboon_ebony";
  design.left.pieces[1].material = "sugar_maple";
  design.left.joints[0] = {.place_mm = 42, .spacers = {{"brass_c36000", 1.5}}};
  design.left.liners = {{"vulcanized_fibre", 1}};
  return design;
}

double pixels_per_mm(const Camera& camera) {
  return kSize.height / camera.height_mm;
}

int count_near(const Picture& picture, Rgb wanted, int tolerance) {
  int count = 0;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      const Rgb here = colour_at(picture, x, y);
      bool near = picture.at(x, y)[3] == 255;
      for (std::size_t k = 0; k < 3; ++k) near = near && std::abs(here[k] - wanted[k]) <= tolerance;
      count += near;
    }
  return count;
}

/// Mean colour of the pixels that a body has in the picture of flat colours.
Vec3 mean_colour(const Picture& picture, const Picture& ids, std::size_t body) {
  Vec3 sum{0, 0, 0};
  int count = 0;
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) {
      if (ids.at(x, y)[3] == 0 || colour_at(ids, x, y) != flat_id_colour(body)) continue;
      const Rgb here = colour_at(picture, x, y);
      sum += Vec3(here[0], here[1], here[2]);
      ++count;
    }
  REQUIRE(count > 0);
  return sum / static_cast<double>(count);
}

std::size_t index_of(const Preview& preview, const BodyId& id) {
  const Body* body = preview.find(id);
  REQUIRE(body);
  return static_cast<std::size_t>(body - preview.bodies.data());
}

}  // namespace

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

TEST_CASE("a step put into a joint appears in the mismatch view") {
  constexpr Rgb kBad{204, 20, 56};
  constexpr Rgb kGood{13, 135, 117};
  const auto marks = [&](double step_mm, double place_mm) {
    Design design = sample();
    design.right.joints = design.left.joints;
    design.right.joints->front().place_mm += step_mm;
    Scene scene(std::move(design));
    Camera camera = scene.camera(StandardView::left);
    const Picture picture =
        scene.draw(camera, {.mode = SceneMode::mismatch, .backdrop = Backdrop::light, .step_limit_mm = 0.1});
    // Within a few millimetres of where the joint runs, and everywhere.
    const Vec2 joint = *project(camera, {place_mm, 0, 0}, kSize);
    int bad_here = 0;
    for (int y = 0; y < picture.height; ++y)
      for (int x = 0; x < picture.width; ++x)
        if (std::abs(x - joint.x) < 6 * pixels_per_mm(camera) && colour_at(picture, x, y) == kBad) ++bad_here;
    return std::array{bad_here, count_near(picture, kBad, 3), count_near(picture, kGood, 3)};
  };
  const auto none = marks(0, 42);
  CHECK(none[1] == 0);
  CHECK(none[2] > 100);
  const auto small = marks(0.06, 42);
  CHECK(small[1] == 0);
  const auto large = marks(0.4, 42);
  CHECK(large[0] > 200);
  CHECK(large[0] == large[1]);  // only at that joint: the front faces still agree
}

TEST_CASE("a section cuts away what lies before it and closes the cut") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::spine);
  const Vec2 pin = scene.handle.pins[0].at;
  const auto body_at_pin = [&](const SceneOptions& options, double z) -> std::optional<BodyId> {
    scene.draw(camera, options);
    const Vec2 at = *project(camera, {pin.x, pin.y, z}, kSize);
    return scene.view.body_at(static_cast<int>(at.x), static_cast<int>(at.y));
  };
  // Through the pins' axes, looked at from above: the pin, not the wood over it.
  const BodyId pin_id{.kind = BodyKind::pin, .index = 0};
  const BodyId wood{BodyKind::piece, Which::left, 0};
  SceneOptions options = flat();
  CHECK(body_at_pin(options, 6) == wood);
  options.section = SectionPlane{{0, 1, 0}, pin.y};
  CHECK(body_at_pin(options, 6) == pin_id);
  options.mode = SceneMode::materials;
  CHECK(body_at_pin(options, 6) == pin_id);
  // Beside the pin the cut goes through solid wood, where an open shell would show its far wall or nothing.
  const Vec2 beside = *project(camera, {pin.x + 6, pin.y, 6}, kSize);
  CHECK(scene.view.body_at(static_cast<int>(beside.x), static_cast<int>(beside.y)) == wood);
  // All of it cut away.
  options.section = SectionPlane{{0, 1, 0}, -100};
  CHECK_FALSE(body_at_pin(options, 6));
}

TEST_CASE("glass wood shows the pins inside") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::spine);
  const Vec2 pin = scene.handle.pins[1].at;
  const Vec2 at = *project(camera, {pin.x, 0, 6}, kSize);
  const Vec2 beside = *project(camera, {pin.x + 8, 0, 6}, kSize);
  const auto yellow = [&](const Picture& picture, Vec2 p) {
    const Rgb colour = colour_at(picture, static_cast<int>(p.x), static_cast<int>(p.y));
    return static_cast<int>(colour[0]) - static_cast<int>(colour[2]);
  };
  const Picture solid = scene.draw(camera, {});
  const Picture ghost = scene.draw(camera, {.mode = SceneMode::ghost_wood});
  CHECK(std::abs(yellow(solid, at) - yellow(solid, beside)) < 25);
  CHECK(yellow(ghost, at) > yellow(ghost, beside) + 40);
}

TEST_CASE("a clear backdrop is clear, the others are not") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::three_quarter, 0, true);
  const Picture clear = scene.draw(camera, {.backdrop = Backdrop::clear, .shadow = false});
  CHECK(clear.at(0, 0)[3] == 0);
  CHECK(clear.at(kSize.width - 1, kSize.height - 1)[3] == 0);
  CHECK(clear.at(kSize.width / 2, kSize.height / 2)[3] == 255);
  const Picture light = scene.draw(camera, {.backdrop = Backdrop::light});
  const Picture dark = scene.draw(camera, {.backdrop = Backdrop::dark});
  CHECK(light.at(0, 0)[3] == 255);
  CHECK(light.at(0, 0)[1] > 180);
  CHECK(dark.at(0, 0)[1] < 60);
}

TEST_CASE("a shadow falls on the ground beside the handle") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::left, 0, true);
  const Picture with = scene.draw(camera, {.shadow = true});
  const Picture without = scene.draw(camera, {.shadow = false});
  // Just under the belly, away from the light.
  const Vec2 under = *project(camera, {60, scene.preview.low.y - 2, scene.preview.low.z}, kSize);
  const auto green = [&](const Picture& picture) {
    return static_cast<int>(picture.at(static_cast<int>(under.x), static_cast<int>(under.y))[1]);
  };
  CHECK(green(with) < green(without) - 25);
}

TEST_CASE("the body under a pixel is the one drawn there") {
  Scene scene(test::random_design(4));
  const Camera camera = scene.camera(StandardView::three_quarter, 1, true);
  SceneOptions options = flat();
  options.exploded = 1;
  const Picture ids = scene.draw(camera, options);
  options.mode = SceneMode::materials;
  scene.draw(camera, options);
  int hits = 0;
  for (int y = 3; y < kSize.height; y += 17)
    for (int x = 5; x < kSize.width; x += 13) {
      const auto body = scene.view.body_at(x, y);
      REQUIRE(body.has_value() == (ids.at(x, y)[3] != 0));
      if (!body) continue;
      ++hits;
      REQUIRE(colour_at(ids, x, y) == flat_id_colour(index_of(scene.preview, *body)));
    }
  CHECK(hits > 30);
  CHECK_FALSE(scene.view.body_at(-1, 0));
  CHECK_FALSE(scene.view.body_at(0, kSize.height));
}

TEST_CASE("pictures come out the same again, and new when the design changes") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::left);
  const Picture first = scene.draw(camera, {});
  CHECK(scene.draw(camera, {}).rgba == first.rgba);
  Design moved = scene.design;
  moved.left.joints[0].place_mm += 5;
  moved.left.pieces[0].material = "olive";
  const Handle handle = lay_out(moved);
  scene.view.set_preview(build_preview(moved, handle), pair_joint_lines(handle));
  const Picture second = scene.draw(camera, {});
  CHECK(second.rgba != first.rgba);
  // As if it had been drawn from nothing.
  Scene fresh(moved);
  CHECK(fresh.draw(camera, {}).rgba == second.rgba);
  // Fewer bodies than before leave nothing behind.
  moved.pins.pop_back();
  moved.left.liners.clear();
  const Handle less = lay_out(moved);
  const Preview preview = build_preview(moved, less);
  scene.view.set_preview(preview, pair_joint_lines(less));
  find_bodies(scene.draw(camera, flat()), preview.bodies.size());
}

TEST_CASE("a highlighted body is tinted, the others are not") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::left);
  const Picture ids = scene.draw(camera, flat());
  const Picture plain = scene.draw(camera, {});
  const BodyId marked{BodyKind::piece, Which::left, 0};
  const Picture tinted = scene.draw(camera, {.highlight = marked});
  const std::size_t rear = index_of(scene.preview, {BodyKind::piece, Which::left, 1});
  const std::size_t front = index_of(scene.preview, marked);
  CHECK(glm::distance(mean_colour(plain, ids, front), mean_colour(tinted, ids, front)) > 40);
  CHECK(glm::distance(mean_colour(plain, ids, rear), mean_colour(tinted, ids, rear)) < 1);
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
  CHECK_THROWS_AS(png_bytes({}), std::invalid_argument);
  CHECK_THROWS_AS(png_bytes({2, 2, {0, 0, 0, 0}}), std::invalid_argument);
}

TEST_CASE("sizes that make no picture are refused") {
  Scene scene(sample());
  const Camera camera = scene.camera(StandardView::left);
  CHECK_THROWS_AS(scene.view.draw(camera, {}, {0, 100}), RenderError);
  CHECK_THROWS_AS(scene.view.draw(camera, {}, {100, 1 << 20}), RenderError);
}

TEST_CASE("every random design can be drawn in every mode") {
  for (std::uint64_t seed = 100; seed < 112; ++seed) {
    Scene scene(test::random_design(seed));
    const Camera camera = scene.camera(StandardView::three_quarter, 0, true);
    const Picture ids = scene.draw(camera, flat());
    for (const SceneMode mode : {SceneMode::materials, SceneMode::ghost_wood, SceneMode::mismatch}) {
      const Picture picture =
          scene.draw(camera, {.mode = mode, .backdrop = Backdrop::clear, .shadow = false});
      int missing = 0;
      for (int y = 0; y < kSize.height; ++y)
        for (int x = 0; x < kSize.width; ++x)
          if (mode == SceneMode::materials && ids.at(x, y)[3] != 0 && picture.at(x, y)[3] == 0) ++missing;
      INFO("seed " << seed);
      CHECK(missing == 0);
      CHECK(std::any_of(picture.rgba.begin(), picture.rgba.end(),
                        [](std::uint8_t value) { return value != 0; }));
    }
  }
}
