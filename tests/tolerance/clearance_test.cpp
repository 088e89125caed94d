// The clearance of pins against closed forms, against the true rotation and against fastener formulas.
#include "haftwright/tolerance/clearance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "support/fits.hpp"
#include "support/nearly.hpp"
#include "tolerance/random_pins.hpp"

using namespace haftwright;

namespace {

constexpr double tight = 1e-9;
const PoseEffect turn_itself{.turn_mm = 1};

/// The motion of point p along a direction.
PoseEffect motion(Vec2 p, Vec2 along) {
  return {.along = along, .turn_mm = cross(p, along)};
}

std::vector<PinClearance> two_pins(double apart_mm, double first_clearance_mm, double second_clearance_mm) {
  return {{.at_mm = {0, 0}, .radius_mm = first_clearance_mm / 2},
          {.at_mm = {apart_mm, 0}, .radius_mm = second_clearance_mm / 2}};
}

void check_value(const FarthestPose& found, double value_mm) {
  CHECK(found.kind == ClearanceKind::held);
  CHECK(found.value_mm == Approx(value_mm).margin(tight));
  CHECK(found.at_most_mm >= value_mm - 1e-13 * std::max(1.0, value_mm));  // rounding
  CHECK(found.at_most_mm <= value_mm + tight);
}

/// The motion of p under a true rotation about the origin, beside the shift.
Vec2 turned_motion(Vec2 p, double turn_rad) {
  const double half = std::sin(turn_rad / 2);
  return -2 * half * half * p + std::sin(turn_rad) * turned_left(p);
}

/// The greatest true motion of p along a direction, by trying turns: at one turn the pins' discs lie in one
/// plane.
double true_farthest(const std::vector<PinClearance>& pins, Vec2 p, Vec2 along, double most_turn) {
  double low = -most_turn;
  double high = most_turn;
  double best = -std::numeric_limits<double>::infinity();
  for (int zoom = 0; zoom < 12; ++zoom) {
    double best_turn = 0;
    const double from = low;
    const double step = (high - low) / 40;
    for (int i = 0; i <= 40; ++i) {
      const double turn = from + step * i;
      std::vector<PinClearance> at_turn;
      for (const PinClearance& pin : pins)
        at_turn.push_back({.radius_mm = pin.radius_mm, .offset_mm = turned_motion(pin.at_mm, turn)});
      const FarthestPose shift = farthest(at_turn, {.along = along});
      if (shift.kind == ClearanceKind::no_fit) continue;
      const double value = shift.value_mm + glm::dot(along, turned_motion(p, turn));
      if (value > best) best = value, best_turn = turn;
    }
    low = best_turn - step;
    high = best_turn + step;
  }
  return best;
}

}  // namespace

TEST_CASE("two pins of one clearance turn by c/L, and carry a point beyond them by c/2 + x c/L") {
  // Closed forms derived for two pins; checks for c = 0.05, L = 60 mm: 0.000833 rad (2.865 minutes of arc),
  // 0.050 mm at 30 mm beyond a pin, and for c = 0.10, L = 80 mm: 4.297 minutes, 0.0875 mm. Texts write
  // atan(c/L), which is nearer c/L than these figures show: a small turn is taken as its tangent here.
  struct Case {
    double c, apart, minutes, beyond_30;
  };
  for (const Case& pair : {Case{0.05, 60, 2.865, 0.050}, Case{0.10, 80, 4.297, 0.0875}}) {
    const std::vector<PinClearance> pins = two_pins(pair.apart, pair.c, pair.c);
    const FarthestPose turned = farthest(pins, turn_itself);
    check_value(turned, pair.c / pair.apart);
    CHECK(turned.value_mm * 180 / std::numbers::pi * 60 == Approx(pair.minutes).margin(5e-4));
    CHECK(std::abs(turned.value_mm - std::atan(pair.c / pair.apart)) < std::pow(pair.c / pair.apart, 3) / 3);
    const FarthestPose beyond = farthest(pins, motion({pair.apart + 30, 0}, {0, 1}));
    check_value(beyond, pair.beyond_30);
    check_value(beyond, pair.c / 2 + 30 * pair.c / pair.apart);
  }
}

TEST_CASE("two pins of unlike clearance turn by (c1 + c2)/(2L)") {
  for (const double apart : {1.0, 60.0, 1000.0})
    for (const auto& [c1, c2] : {std::pair{0.05, 0.15}, {0.002, 4.0}, {0.1, 0.0}}) {
      const std::vector<PinClearance> pins = two_pins(apart, c1, c2);
      check_value(farthest(pins, turn_itself), (c1 + c2) / (2 * apart));
      check_value(farthest(pins, motion({apart + 30, 0}, {0, -1})), c2 / 2 + 30 * (c1 + c2) / (2 * apart));
      check_value(farthest(pins, {.along = {1, 0}}), std::min(c1, c2) / 2);
      check_value(farthest(pins, {.along = {0, 2}}), c1);  // twice the first pin's own
    }
}

TEST_CASE("pins between two like pins in a row change nothing") {
  test::Dice dice(11);
  for (int i = 0; i < 100; ++i) {
    const double radius = dice.sized(0.001, 2);
    std::vector<PinClearance> row;
    const Vec2 from = dice.point(100);
    const Vec2 to = dice.point(100);
    for (const double part : {0.0, 1.0, 0.2, 0.5, 0.77})
      row.push_back({.at_mm = from + part * (to - from), .radius_mm = radius});
    const std::vector<PinClearance> outer(row.begin(), row.begin() + 2);
    const PoseEffect effect = motion(dice.point(100), dice.direction());
    const FarthestPose all = farthest(row, effect);
    CHECK(all.value_mm == Approx(farthest(outer, effect).value_mm).margin(tight));
  }
}

TEST_CASE("one pin, or pins on one spot, hold the shift only") {
  const PinClearance pin{.at_mm = {30, 4}, .radius_mm = 0.05, .offset_mm = {0.01, -0.02}};
  const Vec2 along{0.6, 0.8};
  const FarthestPose one = farthest(std::array{pin}, motion({80, 0}, along));
  CHECK(one.kind == ClearanceKind::one_pin);
  CHECK(one.pose.turn_rad == 0);
  CHECK(one.value_mm == Approx(0.05 - 0.01 * 0.6 + 0.02 * 0.8).margin(tight));
  CHECK_FALSE(deepest(std::array{pin}).has_value());

  PinClearance second = pin;
  second.radius_mm = 0.03;
  second.offset_mm = {0.01 - 0.04, -0.02};  // discs whose middles are 0.04 apart along x
  const std::array both{pin, second};
  CHECK(farthest(both, {.along = {-1, 0}}).kind == ClearanceKind::one_pin);
  CHECK(farthest(both, {.along = {-1, 0}}).value_mm == Approx(-0.03 + 0.03).margin(1e-9));
  CHECK(farthest(both, {.along = {1, 0}}).value_mm == Approx(0.05 - 0.01).margin(1e-9));
  second.offset_mm.x = 0.01 - 0.0801;
  CHECK(farthest(std::array{pin, second}, turn_itself).kind == ClearanceKind::no_fit);
}

TEST_CASE("pins on one spot are one pin among others") {
  const PinClearance near{.at_mm = {0, 0}, .radius_mm = 0.05};
  const PinClearance wider{.at_mm = {0, 0}, .radius_mm = 0.09};
  const PinClearance far{.at_mm = {70, 0}, .radius_mm = 0.02};
  check_value(farthest(std::array{near, wider, near, far, far}, turn_itself), 0.07 / 70);
}

TEST_CASE("no pin holds nothing") {
  CHECK(farthest({}, turn_itself).kind == ClearanceKind::no_pin);
  CHECK_FALSE(deepest({}).has_value());
}

TEST_CASE("a pressed pin leaves a turn about itself, two leave nothing") {
  const std::vector<PinClearance> pins = two_pins(50, 0, 0.1);
  check_value(farthest(pins, turn_itself), 0.05 / 50);
  check_value(farthest(pins, motion({0, 0}, {0.6, 0.8})), 0);
  check_value(farthest(pins, motion({100, 0}, {0, 1})), 0.1);

  std::vector<PinClearance> both = two_pins(50, 0, 0);
  both.push_back({.at_mm = {25, 3}, .radius_mm = 0.2});
  check_value(farthest(both, motion({90, 10}, {0.6, 0.8})), 0);
  both[1].offset_mm = {0, -0.05};  // across: taken up by a turn
  check_value(farthest(both, turn_itself), 0.05 / 50);
  both[1].offset_mm = {0.05, 0};  // along: no pose
  CHECK(farthest(both, turn_itself).kind == ClearanceKind::no_fit);
  CHECK_FALSE(smallest_steps(both, {}).has_value());
}

TEST_CASE("pins that touch without room leave what the touching leaves") {
  // Holes farther apart than the pins by just the clearance: each pin at its side, only a turn's worth of
  // nothing.
  std::vector<PinClearance> pins = two_pins(40, 0.1, 0.1);
  pins[0].offset_mm = {-0.05, 0};
  pins[1].offset_mm = {0.05, 0};
  const FarthestPose across = farthest(pins, motion({20, 0}, {0, 1}));
  CHECK(across.kind == ClearanceKind::held);
  CHECK(across.value_mm == Approx(0).margin(1e-9));
  pins[1].offset_mm.x += 1e-8;
  CHECK(farthest(pins, turn_itself).kind == ClearanceKind::no_fit);

  // Two pins of one spot touch; a third, loose, leaves the turn about them.
  const std::array three{PinClearance{.at_mm = {0, 0}, .radius_mm = 0.05, .offset_mm = {-0.05, 0}},
                         PinClearance{.at_mm = {0, 0}, .radius_mm = 0.05, .offset_mm = {0.05, 0}},
                         PinClearance{.at_mm = {60, 0}, .radius_mm = 0.03}};
  check_value(farthest(three, turn_itself), 0.03 / 60);
}

TEST_CASE("a pin that does not go in fits nowhere") {
  std::vector<PinClearance> pins = two_pins(40, 0.1, -0.01);
  CHECK(farthest(pins, turn_itself).kind == ClearanceKind::no_fit);
  CHECK(deepest(pins)->room_mm == Approx(-0.005).margin(tight));
}

TEST_CASE("an effect of nothing is nothing") {
  check_value(farthest(two_pins(40, 0.1, 0.2), {}), 0);
  check_value(farthest(two_pins(40, 0, 0.2), {}), 0);
}

TEST_CASE("clearance does not ask where the origin is, which way the axes point, or in what unit") {
  test::Dice dice(12);
  for (int i = 0; i < 200; ++i) {
    const std::vector<PinClearance> pins = dice.pins(dice.whole(2, 12), {.offsets = i % 2 == 1});
    const Vec2 p = dice.point(150);
    const Vec2 along = dice.direction();
    const FarthestPose here = farthest(pins, motion(p, along));
    const double angle = dice.between(0, 2 * std::numbers::pi);
    const double scale = dice.sized(0.1, 10);
    const Vec2 shift = dice.point(200);
    const auto turned = [&](Vec2 v) { return std::cos(angle) * v + std::sin(angle) * turned_left(v); };
    std::vector<PinClearance> moved;
    for (const PinClearance& pin : pins)
      moved.push_back({.at_mm = scale * (turned(pin.at_mm) + shift),
                       .radius_mm = scale * pin.radius_mm,
                       .offset_mm = scale * turned(pin.offset_mm)});
    const FarthestPose there = farthest(moved, motion(scale * (turned(p) + shift), turned(along)));
    REQUIRE(there.kind == here.kind);
    CHECK(there.value_mm == Approx(scale * here.value_mm).margin(5e-9 * std::max(1.0, scale)));
  }
}

TEST_CASE("taking the turn as small leaves out (c/L)^2/2 of a lever") {
  test::Dice dice(13);
  double greatest = 0;  // part of what is allowed
  for (int i = 0; i < 60; ++i) {
    const double apart = dice.between(10, 100);
    const double clearance = dice.sized(0.02, 2);
    std::vector<PinClearance> pins = {{.at_mm = {-apart / 2, 0}, .radius_mm = clearance / 2},
                                      {.at_mm = {apart / 2, 0}, .radius_mm = clearance / 2}};
    if (i % 3 == 0) pins.push_back({.at_mm = {apart / 5, 7}, .radius_mm = clearance / 2});
    const Vec2 p = dice.point(100);
    const Vec2 along = dice.direction();
    const double exact = true_farthest(pins, p, along, 1.3 * clearance / apart);
    const double allowed = std::pow(clearance / apart, 2) / 2 * (glm::length(p) + apart / 2);
    const double error = std::abs(farthest(pins, motion(p, along)).value_mm - exact);
    CHECK(error <= allowed + tight);
    greatest = std::max(greatest, error / allowed);
  }
  CHECK(greatest > 0.1);  // the bound is no idle one
}

TEST_CASE("smallest steps where pins leave the turn or everything free") {
  const PoseEffect at_spine = motion({50, 10}, {1, 0});
  const PoseEffect at_belly = motion({50, -10}, {1, 0});
  const std::array steps{Step{0.3, at_spine}, Step{-0.1, at_belly}};
  const BestPose unpinned = *smallest_steps({}, steps);  // a shift and a turn take both up
  CHECK(unpinned.greatest_mm == Approx(0).margin(tight));
  // One effect only: the ways it does not feel are left alone.
  CHECK(smallest_steps({}, std::array{Step{0.3, at_spine}, Step{-0.1, at_spine}})->greatest_mm ==
        Approx(0.2).margin(tight));
  const PinClearance pin{.at_mm = {20, 0}, .radius_mm = 0.04};
  // The turn about the pin takes the difference, the shift 0.04 of the mean 0.1.
  CHECK(smallest_steps(std::array{pin}, steps)->greatest_mm == Approx(0.1 - 0.04).margin(tight));
  // A step at the pin itself feels no turn.
  const std::array at_pin{Step{0.3, motion({20, 0}, {0, 1})}};
  CHECK(smallest_steps(std::array{pin}, at_pin)->greatest_mm == Approx(0.26).margin(tight));
  const PinClearance pressed{.at_mm = {20, 0}};
  CHECK(smallest_steps(std::array{pressed}, steps)->greatest_mm == Approx(0.1).margin(tight));
  CHECK(smallest_steps(std::array{pressed}, at_pin)->greatest_mm == Approx(0.3).margin(tight));
  // Nothing to change.
  CHECK(smallest_steps({}, {})->greatest_mm == 0);
  CHECK(smallest_steps({}, std::array{Step{0.3, {}}})->greatest_mm == 0.3);
  CHECK(smallest_steps(two_pins(40, 0.1, 0.1), {})->greatest_mm == 0);
  CHECK(smallest_steps(two_pins(40, 0.1, 0.1), std::array{Step{-0.3, {}}})->greatest_mm ==
        Approx(0.3).margin(tight));
}

TEST_CASE("deepest says what the fastener formulas of ASME Y14.5 appendix B say") {
  // Floating H = F + T, fixed H = F + 2T: GD&T: Application and Interpretation (Goodheart-Willcox, 2021), p.
  // 308. Fastener 14, hole 14.25, floating T = 0.25: inputs of Y14.5M-1994 Fig. 5-9 as reproduced on the web.
  const double hole = 14.25;
  const double fastener = 14;
  const double apart = 60;
  struct Case {
    double tolerance, room;  // room of a pin between the parts
  };
  const Case floating{test::floating_fastener_tolerance_mm(hole, fastener), 2 * (hole - fastener) / 2};
  const Case fixed{test::fixed_fastener_tolerance_mm(hole, fastener), (hole - fastener) / 2};
  CHECK(floating.tolerance == test::nearly(0.25));
  CHECK(fixed.tolerance == test::nearly(0.125));
  for (const auto& [tolerance, room] : {floating, fixed}) {
    // Each part's hole is off by T/2 in any direction, so the parts' holes by T against each other.
    const auto room_left = [&, between = room](double off, Vec2 first, Vec2 second) {
      return deepest(std::array{PinClearance{{0, 0}, between, off * first},
                                PinClearance{{apart, 0}, between, off * second}})
          ->room_mm;
    };
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i < 36; ++i)
      for (int j = 0; j < 36; ++j) {
        const auto direction = [](int k) {
          return Vec2{std::cos(k * std::numbers::pi / 18), std::sin(k * std::numbers::pi / 18)};
        };
        least = std::min(least, room_left(tolerance, direction(i), direction(j)));
      }
    CHECK(least ==
          Approx(0).margin(tight));  // the pin goes in whatever the directions, in the worst only just
    CHECK(room_left(tolerance, {1, 0}, {-1, 0}) == Approx(0).margin(tight));
    CHECK(room_left(tolerance + 1e-4, {1, 0}, {-1, 0}) == Approx(-1e-4).margin(tight));
    CHECK(room_left(tolerance + 1e-4, {0, 1}, {0, -1}) == Approx(room).margin(1e-6));  // a turn takes it up
  }
}
