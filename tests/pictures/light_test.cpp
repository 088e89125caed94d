// Linear light and stored values.
#include <catch2/catch.hpp>

#include "haftwright/pictures/photo.hpp"
#include "support/nearly.hpp"

using namespace haftwright;

TEST_CASE("sRGB follows IEC 61966-2-1") {
  // The two branches meet at 0.04045 (0.0031308 of the light), as the standard prints it: to its four digits.
  CHECK(light_of_srgb(0.04045) == Approx(0.0031308).margin(5e-8));
  CHECK(srgb_of_light(0.0031308) == Approx(0.04045).margin(5e-7));
  CHECK(light_of_srgb(0) == 0);
  CHECK(light_of_srgb(1) == test::nearly(1));
  CHECK(srgb_of_light(1) == test::nearly(1));
  // A stored 128 is 21.6 % of the light, and 50 % of the light is stored as 188: by (128/255 + 0.055)/1.055
  // to the power of 2.4, and its inverse, worked out by hand.
  CHECK(light_of_srgb(128 / 255.0) == Approx(0.215861).margin(1e-6));
  CHECK(255 * srgb_of_light(0.5) == Approx(187.516).margin(1e-3));
  for (int i = 0; i < 256; ++i)
    CHECK(255 * srgb_of_light(light_of_srgb(i / 255.0)) == Approx(i).margin(1e-5));
}
