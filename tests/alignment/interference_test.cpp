// How much thinner pins must be to go in, against closed forms and against designs with such pins.
#include <cmath>
#include <cstdlib>

#include "way_stacks.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// Two pins 50 mm apart with this room each, whose holes are off along their line by up to `off` against each
/// other, evenly.
ToleranceStack two_pins(double room, double off, double radius_for_room) {
  ToleranceStack stack;
  stack.contributors.push_back({"hole", "a hole"});
  stack.variables.push_back({DistributionShape::rectangular, 0});
  PatternClearance& clearance = stack.clearances.emplace_back();
  for (const double x : {0.0, 50.0})
    clearance.pins.push_back({.at_mm = {x, 0}, .radius_mm = room, .radius_for_room = radius_for_room});
  clearance.pins[0].offset_x = {{0, off}};
  return stack;
}

}  // namespace

TEST_CASE("pins that bind need as much less diameter as the closed form says") {
  // Off by e, even up to E, the pins go in when e <= 2 (r + w t/2), w the radius for each mm of room.
  constexpr double samples = 20'000;
  for (const double w : {1.0, 2.0}) {
    constexpr double r = 0.02, most = 0.2;
    const auto closed_form = [&](double share) { return (most * (1 - share) / 2 - r) * 2 / w; };
    const Interference interference =
        interference_of(two_pins(r, most, w), {.samples = static_cast<std::uint64_t>(samples)}, 0.05);
    const double now = 1 - 2 * r / most;
    // Five standard errors of the counted share, and the step that the answer is found to.
    const auto off = [&](double share) {
      return 0.001 + 5 * std::sqrt(share * (1 - share) / samples) * most / w;
    };
    REQUIRE(interference.thinner_mm);
    CHECK(*interference.thinner_mm == Approx(closed_form(0.05)).margin(off(0.05)));
    CHECK(interference.typical_mm == Approx(closed_form(now / 2)).margin(off(now / 2)));
    CHECK(interference.limit == 0.05);
  }
}

TEST_CASE("pins that go in need nothing off, and holes that are too far off can't be eased") {
  const Interference none = interference_of(two_pins(0.2, 0.1, 2), {.samples = 1000});
  CHECK(none.typical_mm == 0);
  CHECK(none.thinner_mm == 0);
  CHECK_FALSE(interference_of(two_pins(0.2, 1e3, 1), {.samples = 1000}).thinner_mm);
  CHECK_THROWS_AS(interference_of(two_pins(0.2, 0.1, 1), {.samples = 1000}, 1.5), std::invalid_argument);
}

TEST_CASE("pins sanded by that much bind in no more handles than they may") {
  Design design = read_project(HAFTWRIGHT_PROJECTS "/marking_knife.json");
  const SampleSettings settings{.samples = std::getenv("HAFTWRIGHT_SHORT") ? 2000u : 20'000u};
  for (const DrillWay way : {DrillWay::by_eye, DrillWay::to_first, DrillWay::taped}) {
    const ToleranceStack stack = line_up(design, lay_out(design), way, nullptr).stack;
    const Interference interference = interference_of(stack, settings);
    const double now = sample(stack, settings).no_fit.share;
    INFO(way_row(way).key << ": " << now);
    REQUIRE(interference.thinner_mm);
    REQUIRE(now > 0.05);
    const auto share_with = [&](double thinner_mm) {
      Design sanded = design;
      for (Pin& pin : sanded.pins) pin.stock.measured_mm = pin.stock.diameter_mm() - thinner_mm;
      return sample(line_up(sanded, lay_out(sanded), way, nullptr).stack, settings).no_fit.share;
    };
    // Where pins go in, a pose is sampled, and is missed a little less often than it is sought.
    CHECK(share_with(*interference.thinner_mm) <= 0.05);
    CHECK(share_with(*interference.thinner_mm - 0.003) > 0.05 - 0.003);
  }
}
