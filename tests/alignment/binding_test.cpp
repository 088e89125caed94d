// How much thinner pins must be to go in, against closed forms and against designs with such pins.
#include <cmath>
#include <cstdlib>

#include "way_chains.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// Two pins 50 mm apart with this room each, whose holes are off along their line by up to `off` against each
/// other, evenly.
Chain two_pins(double room, double off, double radius_for_room) {
  Chain chain;
  chain.sources.push_back({"hole", "a hole"});
  chain.variables.push_back({Spread::rectangular, 0});
  Play& play = chain.plays.emplace_back();
  for (const double x : {0.0, 50.0})
    play.pins.push_back({.at_mm = {x, 0}, .radius_mm = room, .radius_for_room = radius_for_room});
  play.pins[0].offset_x = {{0, off}};
  return chain;
}

}  // namespace

TEST_CASE("pins that bind need as much less diameter as the closed form says") {
  // Off by e, even up to E, the pins go in when e <= 2 (r + w t/2), w the radius for each mm of room.
  constexpr double draws = 20'000;
  for (const double w : {1.0, 2.0}) {
    constexpr double r = 0.02, most = 0.2;
    const auto closed_form = [&](double share) { return (most * (1 - share) / 2 - r) * 2 / w; };
    const Binding binding =
        binding_of(two_pins(r, most, w), {.draws = static_cast<std::uint64_t>(draws)}, 0.05);
    const double now = 1 - 2 * r / most;
    // Five standard errors of the counted share, and the step that the answer is found to.
    const auto off = [&](double share) {
      return 0.001 + 5 * std::sqrt(share * (1 - share) / draws) * most / w;
    };
    REQUIRE(binding.thinner_mm);
    CHECK(*binding.thinner_mm == Approx(closed_form(0.05)).margin(off(0.05)));
    CHECK(binding.typical_mm == Approx(closed_form(now / 2)).margin(off(now / 2)));
    CHECK(binding.limit == 0.05);
  }
}

TEST_CASE("pins that go in need nothing off, and holes that are too far off can't be eased") {
  const Binding none = binding_of(two_pins(0.2, 0.1, 2), {.draws = 1000});
  CHECK(none.typical_mm == 0);
  CHECK(none.thinner_mm == 0);
  CHECK_FALSE(binding_of(two_pins(0.2, 1e3, 1), {.draws = 1000}).thinner_mm);
  CHECK_THROWS_AS(binding_of(two_pins(0.2, 0.1, 1), {.draws = 1000}, 1.5), std::invalid_argument);
}

TEST_CASE("pins sanded by that much bind in no more handles than they may") {
  Design design = read_project(HAFTWRIGHT_PROJECTS "/marking_knife.json");
  const DrawSettings settings{.draws = std::getenv("HAFTWRIGHT_SHORT") ? 2000u : 20'000u};
  for (const DrillWay way : {DrillWay::by_eye, DrillWay::to_first, DrillWay::taped}) {
    const Chain chain = line_up(design, lay_out(design), way, nullptr).chain;
    const Binding binding = binding_of(chain, settings);
    const double now = draw(chain, settings).no_fit.share;
    INFO(way_row(way).key << ": " << now);
    REQUIRE(binding.thinner_mm);
    REQUIRE(now > 0.05);
    const auto share_with = [&](double thinner_mm) {
      Design sanded = design;
      for (Pin& pin : sanded.pins) pin.stock.measured_mm = pin.stock.diameter_mm() - thinner_mm;
      return draw(line_up(sanded, lay_out(sanded), way, nullptr).chain, settings).no_fit.share;
    };
    // Where pins go in, a pose is drawn, and is missed a little less often than it is sought.
    CHECK(share_with(*binding.thinner_mm) <= 0.05);
    CHECK(share_with(*binding.thinner_mm - 0.003) > 0.05 - 0.003);
  }
}
