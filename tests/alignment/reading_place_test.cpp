#include "haftwright/alignment/reading_place.hpp"

#include <catch2/catch.hpp>

#include "haftwright/alignment/dry_fit.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"

namespace haftwright {

TEST_CASE("readings taken at their places as laid out find the steps that were laid out") {
  std::size_t read = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Design design = test::random_design(seed);
    design.dry_fit.clear();
    const Handle handle = lay_out(design);
    if (common_joints(handle) == 0) continue;
    CaliperReading reading{.joint = design.left.joints.front().id};
    if (!design.pins.empty() && seed % 2 == 0) reading.from_pin = design.pins.front().id;
    const std::size_t most = 8 * common_joints(handle);
    for (std::size_t i = 0; i < most; ++i) {
      if (i > 0) reading = next_reading(design, handle, reading);
      const auto place = reading_place(design, handle, reading);
      REQUIRE(place);
      if (!reading.from_pin.empty()) {
        // A line that runs over the pin can't be read from its near side.
        const Pin& pin = design.pins.front();
        if (std::abs(place->to.x - pin.at_mm.x) < pin.stock.diameter_mm() / 2) continue;
      }
      reading.reading_mm = reading.from_pin.empty() ? glm::distance(place->to, place->from)
                                                    : std::abs(place->to.x - place->from.x);
      design.dry_fit.push_back(reading);
    }
    const auto found = read_dry_fit(design, handle);
    if (!found) continue;
    for (const FoundLine& line : found->lines) {
      const auto& left = handle.left.joints[line.joint].lines;
      const auto& right = handle.right.joints[line.joint].lines;
      const bool front = line.strip_edge == StripEdge::front;
      const JointLine& a = front ? left.front() : left.back();
      const JointLine& b = front ? right.front() : right.back();
      if (line.spine_mm)
        CHECK(line.spine_mm->value == Approx(a.spine.inner.x - b.spine.inner.x).margin(1e-9));
      if (line.belly_mm)
        CHECK(line.belly_mm->value == Approx(a.belly.inner.x - b.belly.inner.x).margin(1e-9));
      ++read;
    }
  }
  CHECK(read > 60);
}

TEST_CASE("a round of readings takes every place once before any comes again") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    Design design = test::random_design(seed);
    design.dry_fit.clear();
    const Handle handle = lay_out(design);
    std::size_t ends = 0;
    for (std::size_t j = 0; j < common_joints(handle); ++j)
      ends += handle.left.joints[j].lines.size() > 1 && handle.right.joints[j].lines.size() > 1 ? 8 : 4;
    CaliperReading reading;
    for (std::size_t n = 0; n < ends; ++n) {
      reading = next_reading(design, handle, reading);
      for (const CaliperReading& before : design.dry_fit) CHECK_FALSE(before == reading);
      design.dry_fit.push_back(reading);
    }
    if (ends > 0) CHECK(next_reading(design, handle, reading) == design.dry_fit.front());
  }
}

TEST_CASE("a round of steps takes every end once, whichever side lies nearer the butt") {
  Design design = test::random_design(2);
  design.dry_fit.clear();
  const Handle handle = lay_out(design);
  std::size_t ends = 0;
  for (std::size_t j = 0; j < common_joints(handle); ++j)
    ends += handle.left.joints[j].lines.size() > 1 && handle.right.joints[j].lines.size() > 1 ? 4 : 2;
  REQUIRE(ends > 0);
  CaliperReading reading{.kind = ReadingKind::step, .reading_mm = 0.1};
  for (std::size_t n = 0; n < ends; ++n) {
    reading = next_reading(design, handle, reading);
    CHECK(reading.kind == ReadingKind::step);
    reading.side = n % 2 == 0 ? Which::left : Which::right;
    const auto place = reading_place(design, handle, reading);
    REQUIRE(place);
    CHECK(place->from == place->to);
    reading.reading_mm = 0.1;
    design.dry_fit.push_back(reading);
  }
  const auto found = read_dry_fit(design, handle);
  REQUIRE(found);
  std::size_t read = 0;
  for (const FoundLine& line : found->lines) read += line.spine_mm.has_value() + line.belly_mm.has_value();
  CHECK(read == ends);
}

TEST_CASE("a joint or a pin that is not there has no place to read at") {
  std::uint64_t seed = 3;
  while (common_joints(lay_out(test::random_design(seed))) == 0) ++seed;
  const Design design = test::random_design(seed);
  const Handle handle = lay_out(design);
  const std::string& joint = design.left.joints.front().id;
  CHECK(reading_place(design, handle, {.joint = joint}));
  CHECK_FALSE(reading_place(design, handle, {.joint = "no_such_joint"}));
  CHECK_FALSE(reading_place(design, handle, {}));
  CHECK_FALSE(reading_place(design, handle, {.joint = joint, .from_pin = "no_such_pin"}));
}

}  // namespace haftwright
