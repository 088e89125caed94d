// A thing without its ground: what is kept, what is carried on past the rim, where it gives out.
#include "haftwright/pictures/thing_photo.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace haftwright;

namespace {

/// Its grey tells the place; the ground is green.
Photo picture(int width, int height, Vec2 low, Vec2 high) {
  Photo photo{width, height, {}};
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const bool inside = x + 0.5 > low.x && x + 0.5 < high.x && y + 0.5 > low.y && y + 0.5 < high.y;
      const auto grey = static_cast<std::uint8_t>(x + y);
      if (inside)
        photo.rgb.insert(photo.rgb.end(), {grey, grey, grey});
      else
        photo.rgb.insert(photo.rgb.end(), {std::uint8_t{0}, std::uint8_t{255}, std::uint8_t{0}});
    }
  return photo;
}

constexpr Vec2 kLow{30, 20};
constexpr Vec2 kHigh{90, 60};
const std::vector<Vec2> kArea{{30, 20}, {90, 20}, {90, 60}, {30, 60}};

std::uint8_t shown_at(const ThingPhoto& thing, int x, int y) {
  return thing.shown[static_cast<std::size_t>(y * thing.photo.width_px + x)];
}

}  // namespace

TEST_CASE("inside its rim a thing stays as it is, outside it is mirrored, and no ground is left") {
  const ThingPhoto thing = thing_alone(picture(120, 80, kLow, kHigh), kArea, {2, 10, 1});
  for (int y = 0; y < 80; ++y)
    for (int x = 0; x < 120; ++x) {
      const auto here = thing.photo.at(x, y);
      INFO(x << ", " << y);
      REQUIRE(here[1] == here[0]);
      const bool kept = x >= 32 && x < 88 && y >= 22 && y < 58;
      if (kept) REQUIRE((here[0] == x + y && shown_at(thing, x, y) == 255));
    }
  // Straight out of a side, as far inside: the first pixel kept is 32.
  for (int out = 1; out < 8; ++out) CHECK(thing.photo.at(32 - out, 40)[0] == 32 + out + 40);
  CHECK(shown_at(thing, 29, 40) == 255);
  CHECK(shown_at(thing, 24, 40) == 255);
  CHECK(shown_at(thing, 23, 40) > 0);
  CHECK(shown_at(thing, 23, 40) < 255);
  CHECK(shown_at(thing, 21, 40) == 0);
  CHECK(shown_at(thing, 0, 0) == 0);
}

TEST_CASE("what the picture does not show of a thing gives out at once") {
  const ThingPhoto thing =
      thing_alone(picture(120, 80, kLow, kHigh), kArea, {0, 10, 4}, [](Vec2 px) { return px.x < 60; });
  CHECK(shown_at(thing, 59, 40) == 255);
  CHECK(shown_at(thing, 62, 40) > 0);
  CHECK(shown_at(thing, 62, 40) < 255);
  for (int x = 65; x < 90; ++x) CHECK(shown_at(thing, x, 40) == 0);
  // Past the rim of the part that is shown it goes on.
  CHECK(shown_at(thing, 40, 16) == 255);
  CHECK(shown_at(thing, 85, 16) == 0);
  const ThingPhoto nothing =
      thing_alone(picture(120, 80, kLow, kHigh), kArea, {0, 10, 4}, [](Vec2) { return false; });
  CHECK(std::count(nothing.shown.begin(), nothing.shown.end(), 0) == 120 * 80);
}

TEST_CASE("the mean is that of linear light over what is shown") {
  Photo photo{40, 20, std::vector<std::uint8_t>(40 * 20 * 3, 200)};
  for (int y = 0; y < 20; ++y)
    for (int x = 0; x < 20; ++x)
      for (std::size_t c = 0; c < 3; ++c) photo.rgb[static_cast<std::size_t>(y * 40 + x) * 3 + c] = 40;
  ThingPhoto thing{photo, std::vector<std::uint8_t>(40 * 20, 255)};
  const double wanted = (light_of_srgb(40 / 255.0) + light_of_srgb(200 / 255.0)) / 2;
  const MeanLight all = mean_light(thing, {{0, 0}, {40, 0}, {40, 20}, {0, 20}});
  CHECK(all.light.x == Approx(wanted).epsilon(0.01));
  CHECK(all.share == Approx(1));
  for (int y = 0; y < 20; ++y)
    for (int x = 0; x < 20; ++x) thing.shown[static_cast<std::size_t>(y * 40 + x)] = 0;
  const MeanLight half = mean_light(thing, {{0, 0}, {40, 0}, {40, 20}, {0, 20}});
  CHECK(half.light.y == Approx(light_of_srgb(200 / 255.0)).epsilon(0.01));
  CHECK(half.share == Approx(0.5));
  // Off the picture there is nothing, and nothing is read.
  const MeanLight beyond = mean_light(thing, {{-50, -50}, {-1, -50}, {-1, 90}, {-50, 90}});
  CHECK(beyond.share == 0);
  CHECK(mean_light(thing, {{0, 0}, {1, 1}}).share == 0);
}

TEST_CASE("what is no picture of a thing is refused") {
  CHECK_THROWS_AS(thing_alone({}, kArea, {}), std::invalid_argument);
  CHECK_THROWS_AS(thing_alone(picture(9, 9, kLow, kHigh), {{0, 0}, {1, 1}}, {}), std::invalid_argument);
  CHECK_THROWS_AS(thing_alone(picture(9, 9, kLow, kHigh), kArea, {-1, 0, 0}), std::invalid_argument);
}
