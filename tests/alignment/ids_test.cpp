// Readings of the dry fit mean the same, whatever becomes of names and of the order of things.
#include <catch2/catch.hpp>

#include "alignment/true_handle.hpp"
#include "haftwright/alignment/reading_place.hpp"
#include "haftwright/edits/edits.hpp"
#include "support/random_design.hpp"

namespace haftwright {
namespace {

using namespace test;

std::vector<std::optional<std::pair<Vec2, Vec2>>> places_of(const Design& design) {
  const Handle handle = lay_out(design);
  std::vector<std::optional<std::pair<Vec2, Vec2>>> places;
  for (const CaliperReading& reading : design.dry_fit) {
    const auto place = reading_place(design, handle, reading);
    places.push_back(place ? std::optional(std::pair(place->from, place->to)) : std::nullopt);
  }
  return places;
}

/// Every end of every joint, from the front face and from a pin.
Design well_read(std::uint64_t seed) {
  Design design = random_design(seed);
  design.dry_fit.clear();
  const Handle handle = lay_out(design);
  Random random(seed);
  for (const std::string& pin : {std::string(), design.pins.back().id})
    for (const CaliperReading& reading : read_all(design, handle, random, 0.05, 1, pin))
      if (reading.reading_mm >= 0) design.dry_fit.push_back(reading);
  return design;
}

}  // namespace

TEST_CASE("readings follow their pin and joint through reordering and renaming", "[dry fit]") {
  std::size_t read = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Design design = well_read(seed);
    if (design.dry_fit.empty()) continue;
    Random random(seed);
    Design other = design;
    std::rotate(other.pins.begin(), other.pins.begin() + 1, other.pins.end());
    std::ranges::reverse(other.tang.holes);
    for (Pin& pin : other.pins) pin.name = "one name for all";
    CHECK(places_of(other) == places_of(design));
    const auto before = read_dry_fit(design, lay_out(design)), after = read_dry_fit(other, lay_out(other));
    REQUIRE(before.has_value() == after.has_value());
    if (!before) continue;
    REQUIRE(before->lines.size() == after->lines.size());
    for (std::size_t i = 0; i < before->lines.size(); ++i) {
      const FoundLine& a = before->lines[i];
      const FoundLine& b = after->lines[i];
      CHECK(a.joint == b.joint);
      REQUIRE(a.spine_mm.has_value() == b.spine_mm.has_value());
      if (a.spine_mm) CHECK(a.spine_mm->value == b.spine_mm->value);
    }
    CHECK(before->unused.size() == after->unused.size());
    read += design.dry_fit.size();
  }
  CHECK(read > 500);
}

TEST_CASE("readings go with their lines when the sides are swapped", "[dry fit]") {
  std::size_t read = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Design design = well_read(seed);
    CHECK(places_of(*swap_sides(design)) == places_of(design));
    read += design.mirrored() ? 0 : design.dry_fit.size();
  }
  CHECK(read > 200);
}

TEST_CASE("readings stay with their joint when one is put in ahead of it or taken away", "[dry fit]") {
  std::size_t kept = 0;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    const Design design = well_read(seed);
    if (design.dry_fit.empty() || design.right.pieces || design.right.joints) continue;
    const auto before = places_of(design);
    const double front = design.left.front.place_mm, first = design.left.joints.front().place_mm;
    const Edited parted = add_joint(design, Which::left, (front + first) / 2);
    REQUIRE(parted);
    if (!try_lay_out(*parted)) continue;
    CHECK(places_of(*parted) == before);
    CHECK(unused_readings(*parted, lay_out(*parted)).size() ==
          unused_readings(design, lay_out(design)).size());
    // The front piece taken away again, and the new joint with it.
    const Edited joined = remove_piece(*parted, Which::left, 1);
    REQUIRE(joined);
    CHECK(places_of(*joined) == before);
    kept += design.dry_fit.size();
  }
  CHECK(kept > 300);
}

TEST_CASE("a reading of a joint that is not the same one on both sides is named, not used", "[dry fit]") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const Design design = well_read(seed);
    if (design.dry_fit.empty() || design.right.pieces || design.right.joints) continue;
    const Design alone = *unlink(*unlink(design, SideField::joints), SideField::pieces);
    const double front = design.left.front.place_mm, first = design.left.joints.front().place_mm;
    const Edited parted = add_joint(alone, Which::right, (front + first) / 2);
    REQUIRE(parted);
    const auto handle = try_lay_out(*parted);
    if (!handle) continue;
    CAPTURE(seed);
    CHECK_FALSE(read_dry_fit(*parted, *handle));
    const auto unused = unused_readings(*parted, *handle);
    REQUIRE(unused.size() == design.dry_fit.size());
    CHECK_THAT(unused.front().why, Catch::Contains("joint 1 of the left side is joint 2 of the right side"));
    return;
  }
  FAIL("no random design to try it on");
}

}  // namespace haftwright
