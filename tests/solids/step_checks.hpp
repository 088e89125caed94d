// What every STEP text of this room has to hold, told by the kernel's reader and by one that is not the
// kernel's.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "haftwright/solids/solids.hpp"
#include "support/part21.hpp"

namespace haftwright::test {

/// True when some upright cylinder of the shell has its axis within 0.001 mm of `at` and that radius.
inline bool has_bore(const part21::File& file, const part21::Shell& shell, Vec2 at, double radius_mm) {
  for (const part21::Cylinder& cylinder : part21::cylinders(file, shell)) {
    const bool upright = std::abs(std::abs(cylinder.axis.z) - 1) < 1e-12;
    if (upright && glm::distance(Vec2(cylinder.point), at) < 1e-3 &&
        std::abs(cylinder.radius_mm - radius_mm) < 1e-3) {
      return true;
    }
  }
  return false;
}

inline bool has_bore(const BodyFacts& facts, Vec2 at, double radius_mm) {
  for (std::size_t i = 0; i < facts.bore_radii_mm.size(); ++i) {
    if (glm::distance(Vec2(facts.bore_axis_points[i]), at) < 1e-3 &&
        std::abs(facts.bore_radii_mm[i] - radius_mm) < 1e-3) {
      return true;
    }
  }
  return false;
}

/// Planes and cylinders come back as they went.
inline constexpr double kSameVolume = 1e-6;
/// The kernel's reader trims a rounded-over body's spline faces anew: 1.6e-5 of a handle's volume is usual,
/// and 6.5e-5 was measured in one of several hundred random handles. Both volumes are measured to 1e-4 of
/// each face's part of it or better.
inline constexpr double kRetrimmedVolume = 1e-4;

/// Reads the text both ways and holds it against the bodies it was written from.
inline part21::File check_step(const Bodies& bodies, const std::string& text, const std::string& product,
                               double volume_share = kSameVolume) {
  const part21::File file = part21::parse(text);
  CHECK(part21::schema(file).starts_with("AUTOMOTIVE_DESIGN"));
  CHECK(part21::all_millimetres_and_radians(file));
  CHECK(part21::all_parts_in_place(file));
  CHECK(part21::product_names(file).front() == product);
  const auto shells = part21::shells(file);
  const auto read_back = measure_step(text);
  REQUIRE(shells.size() == bodies.facts().size());
  REQUIRE(read_back.size() == bodies.facts().size());
  CHECK(file.all("STYLED_ITEM").size() == shells.size());
  for (std::size_t i = 0; i < shells.size(); ++i) {
    const BodyFacts& made = bodies.facts()[i];
    INFO(made.name);
    CHECK(shells[i].closed);
    CHECK(made.closed_and_valid);
    CHECK(read_back[i].closed_and_valid);
    CHECK(read_back[i].name == made.name);
    CHECK(read_back[i].volume_mm3 == Approx(made.volume_mm3).epsilon(volume_share));
    REQUIRE(read_back[i].bore_radii_mm.size() == made.bore_radii_mm.size());
    for (std::size_t j = 0; j < made.bore_radii_mm.size(); ++j) {
      CHECK(has_bore(read_back[i], made.bore_axis_points[j], made.bore_radii_mm[j]));
      CHECK(has_bore(file, shells[i], made.bore_axis_points[j], made.bore_radii_mm[j]));
    }
  }
  return file;
}

}  // namespace haftwright::test
