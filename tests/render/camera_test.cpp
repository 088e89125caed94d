// Cameras: where the standard views look from, and that turning and magnifying hold what they promise.
#include "haftwright/render/camera.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/handle/lay_out.hpp"
#include "support/nearly.hpp"
#include "support/random_design.hpp"

using namespace haftwright;

namespace {

constexpr PictureSize kSize{800, 500};

Vec2 seen(const Camera& camera, Vec3 p) {
  const auto at = project(camera, p, kSize);
  REQUIRE(at);
  return *at;
}

void check_square(const Camera& camera) {
  CHECK(glm::length(camera.back) == Approx(1).epsilon(1e-9));
  CHECK(glm::length(camera.up) == Approx(1).epsilon(1e-9));
  CHECK(std::abs(glm::dot(camera.back, camera.up)) < 1e-9);
}

}  // namespace

TEST_CASE("standard views look from where their names say") {
  const Vec2 middle{400, 250};
  const auto view = [&](StandardView which, Vec3 p) {
    return seen(standard_camera(which, false), p) - middle;
  };
  const Vec3 toward_butt{10, 0, 0};
  const Vec3 toward_spine{0, 10, 0};
  const Vec3 toward_left{0, 0, 10};
  // Pixels run down the picture. Blade to the left, edge down, from the left; mirrored from the right.
  CHECK(view(StandardView::left, toward_butt).x == test::nearly(50));
  CHECK(view(StandardView::left, toward_spine).y == test::nearly(-50));
  CHECK(view(StandardView::right, toward_butt).x == test::nearly(-50));
  CHECK(view(StandardView::right, toward_spine).y == test::nearly(-50));
  // From above and from below the blade stays at the left; the left side is toward whoever looks on from
  // there.
  CHECK(view(StandardView::spine, toward_butt).x == test::nearly(50));
  CHECK(view(StandardView::spine, toward_left).y == test::nearly(50));
  CHECK(view(StandardView::belly, toward_butt).x == test::nearly(50));
  CHECK(view(StandardView::belly, toward_left).y == test::nearly(-50));
  // From the blade the left side is on the right, from the butt on the left.
  CHECK(view(StandardView::front, toward_left).x == test::nearly(50));
  CHECK(view(StandardView::front, toward_spine).y == test::nearly(-50));
  CHECK(view(StandardView::butt, toward_left).x == test::nearly(-50));
  CHECK(view(StandardView::butt, toward_spine).y == test::nearly(-50));
}

TEST_CASE("every view has a name that finds it") {
  for (const StandardView view : kStandardViews) {
    CHECK(find_view(name_of(view)) == view);
    check_square(standard_camera(view, true));
  }
  CHECK_FALSE(find_view("sideways"));
}

TEST_CASE("fitting puts every vertex inside the margin and lets the widest touch it") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Design design = test::random_design(seed);
    const Preview preview = build_preview(design, lay_out(design));
    for (const StandardView view : kStandardViews)
      for (const bool perspective : {false, true})
        for (const double exploded : {0.0, 1.0}) {
          Camera camera = standard_camera(view, perspective);
          fit(camera, preview, exploded, kSize, 0.1);
          double largest = 0;
          for (const Body& body : preview.bodies)
            for (const Vertex& vertex : body.vertices) {
              const Vec3 p(vertex.position[0], vertex.position[1], vertex.position[2]);
              const Vec2 from =
                  glm::abs(seen(camera, p + body.apart * exploded) - Vec2{400, 250}) / Vec2{400, 250};
              largest = std::max({largest, from.x, from.y});
            }
          INFO("seed " << seed << ", " << name_of(view) << (perspective ? ", perspective" : ""));
          CHECK(largest <= 0.8 + 1e-6);
          CHECK(largest >= 0.8 - 1e-6);
        }
  }
}

TEST_CASE("zooming keeps the point under the cursor, panning moves it with the cursor") {
  for (const bool perspective : {false, true}) {
    Camera camera = standard_camera(StandardView::left, perspective);
    camera.target = {40, 3, 0};
    const Vec3 held{55, 8, 0};  // in the plane of the target, where the promise is exact
    const Vec2 before = seen(camera, held);
    zoom(camera, 1.7, before, kSize);
    CHECK(glm::distance(seen(camera, held), before) < 1e-6);
    CHECK(camera.height_mm == test::nearly(100 / 1.7));
    const Vec2 zoomed = seen(camera, held);
    pan(camera, 0.1, 0.2);
    CHECK(seen(camera, held).x == test::nearly(zoomed.x + 0.1 * kSize.height));
    CHECK(seen(camera, held).y == test::nearly(zoomed.y - 0.2 * kSize.height));
  }
}

TEST_CASE("turning goes round the target and comes back") {
  for (const StandardView view : kStandardViews) {
    Camera camera = standard_camera(view, true);
    camera.target = {50, 0, 0};
    const Camera start = camera;
    for (int i = 0; i < 36; ++i) {
      orbit(camera, 10, 0);
      check_square(camera);
    }
    CHECK(glm::distance(camera.back, start.back) < 1e-9);
    CHECK(glm::distance(camera.up, start.up) < 1e-9);
    orbit(camera, 0, 35);
    check_square(camera);
    orbit(camera, 0, -35);
    CHECK(glm::distance(camera.back, start.back) < 1e-9);
    CHECK(camera.target == start.target);
  }
  // A drag to the right turns the near side to the right: the eye goes to the left.
  Camera camera = standard_camera(StandardView::left, true);
  orbit(camera, 20, 0);
  CHECK(camera.back.x < -0.3);
}

TEST_CASE("what lies behind the eye is nowhere in the picture") {
  Camera camera = standard_camera(StandardView::left, true);
  CHECK_FALSE(project(camera, {0, 0, camera.distance_mm() + 1}, kSize));
  CHECK(project(camera, {0, 0, camera.distance_mm() - 1}, kSize));
  camera.perspective = false;
  CHECK(project(camera, {0, 0, 10000}, kSize));
}
