// What the scene can do besides: sections, glass, mismatch, shadows, picking, changes.
#include "drawn_scene.hpp"
#include "support/random_design.hpp"

using namespace haftwright;
using namespace haftwright::test;

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
  const Picture tinted = scene.draw(camera, {.highlight = {marked}});
  const std::size_t rear = index_of(scene.preview, {BodyKind::piece, Which::left, 1});
  const std::size_t front = index_of(scene.preview, marked);
  CHECK(glm::distance(mean_colour(plain, ids, front), mean_colour(tinted, ids, front)) > 40);
  CHECK(glm::distance(mean_colour(plain, ids, rear), mean_colour(tinted, ids, rear)) < 1);
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
