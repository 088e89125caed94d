// Light and shade, evened out.
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "haftwright/pictures/even_light.hpp"

using namespace haftwright;

namespace {

constexpr int kWidth = 240;
constexpr int kHeight = 160;

Photo painted(const std::function<double(double, double)>& light) {
  Photo photo{kWidth, kHeight, {}};
  for (int y = 0; y < kHeight; ++y)
    for (int x = 0; x < kWidth; ++x) {
      const double value = light(x + 0.5, y + 0.5);
      for (const double tint : {1.0, 0.7, 0.4})
        photo.rgb.push_back(static_cast<std::uint8_t>(std::lround(255 * srgb_of_light(tint * value))));
    }
  return photo;
}

double stripes(double x, double y) {
  return 0.3 * (1 + 0.25 * std::sin(y * 0.5 + 0.6 * std::sin(x * 0.03)));
}
double lamp(double x, double y) {
  return std::exp(0.5 * (x / kWidth - 0.5) - 0.3 * std::pow(y / kHeight - 0.4, 2));
}

/// How the light of one picture compares with another's: the spread of the ratio.
double spread_of_ratio(const Photo& a, const Photo& b) {
  double low = 1e9;
  double high = 0;
  for (int y = 0; y < kHeight; y += 3)
    for (int x = 0; x < kWidth; x += 3) {
      const double ratio = light_of_srgb(a.at(x, y)[0] / 255.0) / light_of_srgb(b.at(x, y)[0] / 255.0);
      low = std::min(low, ratio);
      high = std::max(high, ratio);
    }
  return high / low;
}

}  // namespace

TEST_CASE("a lamp to one side goes, the figure stays") {
  const Photo even = painted(stripes);
  const Photo lit = painted([](double x, double y) { return stripes(x, y) * lamp(x, y); });
  const EvenedPhoto evened = even_light(lit);
  CHECK(spread_of_ratio(lit, even) > 1.5);
  // Stored in 8 bits: a step is 2 % of the light here.
  CHECK(spread_of_ratio(evened.photo, even) < 1.08);
  CHECK(evened.largest_correction > 1.2);
  CHECK(evened.largest_correction < 1.5);
  // The hue stays.
  for (int x = 5; x < kWidth; x += 40) {
    const auto before = lit.at(x, 50);
    const auto after = evened.photo.at(x, 50);
    CHECK(light_of_srgb(after[1] / 255.0) / light_of_srgb(after[0] / 255.0) ==
          Approx(light_of_srgb(before[1] / 255.0) / light_of_srgb(before[0] / 255.0)).epsilon(0.05));
  }
}

TEST_CASE("what is even stays as it is") {
  const Photo even = painted(stripes);
  const EvenedPhoto evened = even_light(even);
  CHECK(evened.largest_correction < 1.04);
  CHECK(spread_of_ratio(evened.photo, even) < 1.06);
}

TEST_CASE("only the area counts") {
  // A lamp over the wood in the middle, on a ground that is brightest where the lamp is not.
  const auto inside = [](double x, double y) { return x > 60 && x < 180 && y > 40 && y < 120; };
  const Photo even = painted([&](double x, double y) { return inside(x, y) ? stripes(x, y) : 0.4; });
  const Photo lit = painted(
      [&](double x, double y) { return inside(x, y) ? stripes(x, y) * lamp(x, y) : 0.9 - 0.7 * x / kWidth; });
  const EvenedPhoto evened = even_light(lit, {{60, 40}, {180, 40}, {180, 120}, {60, 120}});
  double low = 1e9;
  double high = 0;
  for (int y = 42; y < 118; ++y)
    for (int x = 62; x < 178; ++x) {
      const double ratio =
          light_of_srgb(evened.photo.at(x, y)[0] / 255.0) / light_of_srgb(even.at(x, y)[0] / 255.0);
      low = std::min(low, ratio);
      high = std::max(high, ratio);
    }
  // The lamp alone makes 1.3 of it.
  CHECK(high / low < 1.13);
  CHECK_THROWS_AS(even_light(lit, {{0, 0}, {1, 1}}), std::invalid_argument);
  CHECK_THROWS_AS(even_light(Photo{}), std::invalid_argument);
}
