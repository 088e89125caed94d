// Holes and pins: what the drill does to each hole, and what room that leaves the pins.
#include <cstdlib>
#include <numbers>

#include "support/nearly.hpp"
#include "way_stacks.hpp"

using namespace haftwright;
using namespace haftwright::test;

TEST_CASE("a guided drill leans and is off by its room, as jig and fixture work has it") {
  // Clearance c in a guide Lg long at a gap g: off by c/2 + c (g + z)/Lg at depth z, leaning by c/Lg. Worked
  // figures for g = 3: entry (z = 0), exit (z = 6) and lean in degrees; derived by hand, to the digits given.
  struct Row {
    double clearance, length, entry, exit, lean_deg;
  };
  for (const Row& row : {Row{0.05, 12, 0.0375, 0.0625, 0.239}, Row{0.05, 6, 0.05, 0.1, 0.477},
                         Row{0.1, 12, 0.075, 0.125, 0.477}}) {
    Design design = pinned_bar({20, 80});
    design.guide.guide_clearance_mm = row.clearance;
    design.guide.plate_thickness_mm = row.length;
    const LineUp made = line_up_of(design, DrillWay::guide);
    const PinBound& pin = made.stack.clearances.front().pins.front();
    const auto rooms = parts_of(made.stack, pin.offset_x, "drill_room");
    const auto leans = parts_of(made.stack, pin.offset_x, "drill_lean_deg");
    REQUIRE(rooms.size() == 2);  // left and right each their own
    REQUIRE(leans.size() == 1);  // where the left hole points at the right one's mouth, 4 mm farther on
    const double room = std::abs(rooms.front());
    const double lean = std::abs(leans.front()) / 4;
    CHECK(room + lean * 3 == test::nearly(row.entry));
    CHECK(room + lean * 9 == test::nearly(row.exit));
    CHECK(std::atan(lean) * 180 / std::numbers::pi == Approx(row.lean_deg).margin(5e-4));
  }
}

TEST_CASE("a bushing's published room takes the place of the plain bore's") {
  Design design = pinned_bar({20, 80});
  design.guide.bushing_outside_mm = 6;
  const LineUp made = line_up_of(design, DrillWay::guide);
  // ANSI B94.33, bore up to 1/4 in: +.0001 to +.0004 in over the drill.
  for (const double room :
       parts_of(made.stack, made.stack.clearances.front().pins.front().offset_x, "drill_room"))
    CHECK(std::abs(room) == test::nearly(0.0004 * 25.4 / 2));
}

TEST_CASE("scales drilled as one are parted by what the hole leans over the tang between them") {
  const LineUp made = line_up_of(pinned_bar({20, 80}), DrillWay::taped);
  const PinBound& pin = made.stack.clearances.front().pins.front();
  const auto leans = parts_of(made.stack, pin.offset_x, "drill_lean_deg");
  REQUIRE(leans.size() == 1);
  CHECK(std::abs(leans.front()) == test::nearly(4 * std::tan(kFreeLean * std::numbers::pi / 180)));
  // Beside that one lean only the left hole's own wander shows at the right one's mouth.
  CHECK(parts_of(made.stack, pin.offset_x, "drill_wander_deg").size() == 1);
  CHECK(pin.offset_x.size() == 2);
}

TEST_CASE("the second scale's holes follow the first's but for the drill's own room") {
  const Design design = pinned_bar({20, 80});
  const LineUp made = line_up_of(design, DrillWay::to_first);
  const PinBound& pin = made.stack.clearances.front().pins.front();
  const double room_mm = design.drilling.errors.drill_play_mm;
  const auto rooms = parts_of(made.stack, pin.offset_x, "drill_room");
  // At the mouths it goes on where the first one leads, and leans by the far end.
  CHECK(parts_of(made.stack, pin.offset_x, "drill_lean_deg").empty());
  const PinBound& far_end = made.stack.clearances.front().pins[2];
  const auto leans = parts_of(made.stack, far_end.offset_x, "drill_lean_deg");
  REQUIRE(rooms.size() == 1);
  REQUIRE(leans.size() == 1);
  CHECK(std::abs(rooms.front()) == test::nearly(room_mm / 2));
  CHECK(std::abs(leans.front()) == test::nearly(room_mm / (8 + 4) * 8));  // held over scale and tang
}

TEST_CASE("a tang hole larger than the drill lets the drill go where it likes") {
  Design design = pinned_bar({20, 80});
  design.tang.holes = {{"old", {20, 0}, 4.1}};
  design.pins[0].existing_tang_hole = "old";
  design.pins[0].tang_hole = {};
  const LineUp made = line_up_of(design, DrillWay::by_eye);
  const auto room = [&](std::size_t pin) {
    const auto parts =
        parts_of(made.stack, made.stack.clearances.front().pins[5 * pin].offset_x, "drill_room");
    return std::abs(parts.at(0));
  };
  CHECK(room(0) == test::nearly((4.1 - 3.1 + design.drilling.errors.drill_play_mm) / 2));
  CHECK(room(1) == test::nearly(design.drilling.errors.drill_play_mm / 2));
  // A lean of 1 mm in 4 is more than that of a drill that nothing guides.
  const auto leans = parts_of(made.stack, made.stack.clearances.front().pins[0].offset_x, "drill_lean_deg");
  CHECK(std::abs(leans.at(0)) == test::nearly(4 * std::tan(kFreeLean * std::numbers::pi / 180)));
}

TEST_CASE("one more pin never gives a scale more clearance") {
  std::size_t compared = 0;
  for (Design design : designs_to_try()) {
    design.drilling.errors = no_errors();
    while (design.pins.size() > 2) {
      Design fewer = design;
      fewer.pins.pop_back();
      const LineUp many = line_up(design, lay_out(design), DrillWay::to_first, nullptr);
      const LineUp few = line_up(fewer, lay_out(fewer), DrillWay::to_first, nullptr);
      for (std::size_t m = 0; m < many.measures.size(); ++m, ++compared)
        CHECK(limits_of(many.stack, m).clearance <= limits_of(few.stack, m).clearance + 1e-9);
      design = fewer;
    }
  }
  CHECK(compared > 1000);
}

TEST_CASE("two pins' clearance at a joint's end is that of the closed form, less the wider they stand") {
  double before = HUGE_VAL;
  for (const double spread : {20.0, 40.0, 60.0, 80.0}) {
    Design design = pinned_bar({50 - spread / 2, 50 + spread / 2});
    design.left.joints.front().place_mm = 50;
    design.drilling.errors = no_errors();
    const LineUp made = line_up(design, lay_out(design), DrillWay::to_first, nullptr);
    const double clearance = limits_of(made.stack, step_at(made, 0, HandleEdge::spine, false)).clearance;
    // Both holes' room together, 0.1 mm, and half as much more as the pins tilt over a tang of 4 mm between
    // scales of 8. Each pin may leave its middle by that: along x all of it goes into the shift; across,
    // turning, the spine goes along by 10 mm times the turn.
    CHECK(clearance == test::nearly(0.15 * std::hypot(1, 20 / spread)));
    CHECK(clearance < before);
    before = clearance;
  }
}

TEST_CASE("a drilled hole that was not measured lies in its published range") {
  Design design = pinned_bar({20, 80});
  for (Pin& pin : design.pins) pin.scale_hole = pin.liner_hole = pin.tang_hole = {.drill = "3.1 mm"};
  const LineUp made = line_up_of(design, DrillWay::to_first);
  const PinBound& pin = made.stack.clearances.front().pins.front();
  // AND10387: .0135 to .1250 in, +.004 -.001 in; the left radius twice, for the pin tilts, and the right.
  CHECK(pin.radius_mm == test::nearly(1.5 * (3.1 + (0.004 - 0.001) / 2 * 25.4 - 3)));
  const auto parts = parts_of(made.stack, pin.radius, "hole_allowance");
  REQUIRE(parts.size() == 2);
  CHECK(parts[0] + parts[1] == test::nearly(3 * (0.004 + 0.001) / 2 * 25.4 / 2));
  CHECK(std::abs(parts[0] - parts[1]) == test::nearly((0.004 + 0.001) / 2 * 25.4 / 2));
  CHECK(parts_of(made.stack, pin.radius, "hole_size_mm").empty());
}

TEST_CASE("pins that are thicker than their holes do not go in, and the figures stay finite") {
  const Design design = read_project(HAFTWRIGHT_PROJECTS "/marking_knife.json");
  each_way(design, [](DrillWay, const LineUp& made) {
    const Samples samples = sample(made.stack, kFew);
    CHECK(samples.no_fit.share > 0.9);
    for (const Distribution& measure : samples.measures) {
      CHECK(std::isfinite(measure.mean));
      CHECK(std::isfinite(measure.size_95));
    }
    CHECK(std::isfinite(samples.any_size_95));
  });
}

TEST_CASE("pins fixed midway between both scales' holes leave each scale its own room") {
  for (const Design& design : samples()) {
    const LineUp apart = line_up_of(design, DrillWay::guide);
    const LineUp fixed = line_up_of(design, DrillWay::guide_pinned);
    // Left and right on the pins, the bound of both, and the tang on what holds either.
    REQUIRE(fixed.stack.clearances.size() == (design.drilling.fronts_together ? 6 : 5));
    REQUIRE(fixed.stack.clearances[0].pins.size() == 2 * design.pins.size());  // a bound for each rim
    REQUIRE(apart.stack.clearances[0].pins.size() == 5 * design.pins.size());
    for (std::size_t i = 0; i < design.pins.size(); ++i) {
      const PinBound& left = fixed.stack.clearances[0].pins[2 * i];
      const PinBound& right = fixed.stack.clearances[1].pins[2 * i];
      const PinBound& both = apart.stack.clearances[0].pins[5 * i];
      // Where the holes are off against each other, each scale is by half of it, one the other way.
      const auto of_left = parts_of(fixed.stack, left.offset_x, "drill_room");
      const auto of_right = parts_of(fixed.stack, right.offset_x, "drill_room");
      const auto of_both = parts_of(apart.stack, both.offset_x, "drill_room");
      REQUIRE(of_left.size() == of_both.size());
      REQUIRE(of_right.size() == of_both.size());
      for (std::size_t v = 0; v < of_both.size(); ++v) {
        CHECK(of_left[v] == test::nearly(-of_right[v]));
        CHECK(of_left[v] == test::nearly(of_both[v] / 2));
      }
    }
  }
  Design design = pinned_bar({20, 80});
  design.drilling.errors = no_errors();
  design.drilling.fronts_together = false;
  design.guide.guide_clearance_mm = 0;
  const LineUp apart = line_up_of(design, DrillWay::guide);
  const LineUp fixed = line_up_of(design, DrillWay::guide_pinned);
  const Samples free_samples = sample(apart.stack, kFew);
  const Samples fixed_samples = sample(fixed.stack, kFew);
  for (std::size_t m = 0; m < apart.measures.size(); ++m) {
    if (apart.stack.measures[m].kind != Measure::Kind::step_mm) continue;
    CHECK(limits_of(fixed.stack, m).clearance == test::nearly(limits_of(apart.stack, m).clearance));
    // Two rooms sampled each on its own, upright; free pins tilt and let both part by three rooms together.
    CHECK(fixed_samples.measures[m].deviation ==
          Approx(free_samples.measures[m].deviation * std::sqrt(2) / 3).epsilon(0.1));
  }
}

TEST_CASE("a tang hole that its pin does not go through is told whatever the scales' holes are") {
  Design design = pinned_bar({20, 80});
  design.pins[1].tang_hole.diameter_mm = 2.7;
  for (const WayRow& row : way_rows()) {
    INFO(row.key);
    CHECK(sample(line_up_of(design, row.way).stack, kFew).no_fit.share > 0.99);
    CHECK(sample(line_up_of(pinned_bar({20, 80}), row.way).stack, kFew).no_fit.share < 0.5);
  }
}

TEST_CASE("what a drill wanders in the wood adds to any lean, guided or not") {
  for (const WayRow& row : way_rows()) {
    INFO(row.key);
    Design design = pinned_bar({20, 80});
    design.drilling.errors = no_errors();
    design.drilling.errors.drill_wander_deg = 0.2;
    const LineUp made = line_up_of(design, row.way);
    // Where the left hole points at the right one's far end, 12 mm on: its own wander, and the right's
    // over 8.
    const PatternClearance& clearance = made.stack.clearances[row.way == DrillWay::guide_pinned ? 2 : 0];
    const auto parts = parts_of(made.stack, clearance.pins[2].offset_x, "drill_wander_deg");
    const double slope = 0.2 * std::numbers::pi / 180;
    // The second hole goes on where the first one leads, wander and all: only its own is left.
    std::vector<double> expected{12 * slope, 8 * slope};
    if (row.way == DrillWay::to_first) expected = {8 * slope};
    REQUIRE(parts.size() == expected.size());
    for (std::size_t i = 0; i < parts.size(); ++i) CHECK(std::abs(parts[i]) == test::nearly(expected[i]));
  }
}

TEST_CASE("sloppier drilling never lessens the worst case nor the chance that pins bind") {
  // The chance that a step shows can fall: holes that are off against each other take the pins' clearance up.
  const bool few = std::getenv("HAFTWRIGHT_SHORT") != nullptr;
  const double samples = few ? 2000 : 10'000;
  std::size_t compared = 0;
  for (Design design : designs_to_try()) {
    if (design.pins.size() < 2 || !way_problem(design, DrillWay::by_eye).empty()) continue;
    if (++compared > (few ? 4u : 16u)) break;
    const Handle handle = lay_out(design);
    std::vector<double> worst_before;
    double binds_before = 0;
    for (const double clearance_mm : {0.0, 0.05, 0.1, 0.2}) {
      INFO(design.name << ", drill clearance " << clearance_mm);
      design.drilling.errors.drill_play_mm = clearance_mm;
      const LineUp made = line_up(design, handle, DrillWay::by_eye, nullptr);
      std::vector<double> worst;
      for (std::size_t m = 0; m < made.measures.size(); ++m) worst.push_back(limits_of(made.stack, m).worst);
      for (std::size_t m = 0; m < worst_before.size(); ++m) CHECK(worst[m] >= worst_before[m] - 1e-9);
      worst_before = worst;
      const double binds = sample(made.stack, {.samples = static_cast<std::uint64_t>(samples)}).no_fit.share;
      // Five standard errors of the difference of two counted shares.
      CHECK(binds >= binds_before -
                         5 * std::sqrt((binds * (1 - binds) + binds_before * (1 - binds_before)) / samples));
      binds_before = binds;
    }
  }
  CHECK(compared > 3);
}
