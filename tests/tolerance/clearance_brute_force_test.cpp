// The clearance of pins against searches that know nothing of how it is found.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>

#include "haftwright/tolerance/clearance.hpp"
#include "tolerance/random_pins.hpp"

using namespace haftwright;
using test::Dice;

namespace {

double reach_of(std::span<const PinClearance> pins) {
  double reach = 0;
  for (const PinClearance& pin : pins) reach = std::max(reach, glm::length(pin.at_mm - pins.front().at_mm));
  return reach;
}

double room_at(std::span<const PinClearance> pins, const Pose& pose) {
  double room = std::numeric_limits<double>::infinity();
  for (const PinClearance& pin : pins)
    room = std::min(room, pin.radius_mm - glm::length(pose.motion_of(pin.at_mm) + pin.offset_mm));
  return room;
}

/// A pose moved by a shift and by a turn about the first pin.
Pose moved(const Pose& pose, Vec2 about, Vec2 shift, double turn) {
  return {pose.shift_mm + shift - turn * turned_left(about), pose.turn_rad + turn};
}

/// The part of a way from a pose within the pins to where the first pin stops it.
double way_to_the_edge(std::span<const PinClearance> pins, const Pose& from, const Pose& way) {
  double least = std::numeric_limits<double>::infinity();
  for (const PinClearance& pin : pins) {
    const Vec2 v = from.motion_of(pin.at_mm) + pin.offset_mm;
    const Vec2 w = way.motion_of(pin.at_mm);
    const double a = glm::dot(w, w);
    const double b = glm::dot(v, w);
    const double c = glm::dot(v, v) - pin.radius_mm * pin.radius_mm;
    if (a > 0 && c <= 0) least = std::min(least, (-b + std::sqrt(b * b - a * c)) / a);
  }
  return least;
}

/// The farthest at one turn exactly: at a disc's own farthest point, or where two discs' edges cross. Minus
/// infinity where that turn lets some pin not in.
double farthest_at_turn(std::span<const PinClearance> pins, const PoseEffect& effect, double turn) {
  const double length = glm::length(effect.along);
  struct Disc {
    Vec2 middle;
    double radius;
  };
  std::vector<Disc> discs;  // of shifts
  for (const PinClearance& pin : pins)
    discs.push_back({-pin.offset_mm - turn * turned_left(pin.at_mm), pin.radius_mm});
  double best = -std::numeric_limits<double>::infinity();
  const auto consider = [&](Vec2 shift) {
    for (const Disc& disc : discs)
      if (glm::length(shift - disc.middle) > disc.radius + 1e-12) return;
    best = std::max(best, effect.of({shift, turn}));
  };
  for (std::size_t i = 0; i < discs.size(); ++i) {
    const Disc& one = discs[i];
    consider(one.middle + one.radius / std::max(length, 1e-300) * effect.along);
    for (std::size_t j = 0; j < i; ++j) {
      const Disc& other = discs[j];
      const Vec2 between = other.middle - one.middle;
      const double apart = glm::length(between);
      if (apart == 0) continue;
      const double part =
          (apart * apart + one.radius * one.radius - other.radius * other.radius) / (2 * apart);
      const double half = std::sqrt(std::max(0.0, one.radius * one.radius - part * part));
      for (const double side : {-half, half})
        consider(one.middle + (part * between + side * turned_left(between)) / apart);
    }
  }
  return best;
}

/// Turns tried closer and closer about the best: the best at each turn is a concave function of the turn.
double farthest_by_turns(std::span<const PinClearance> pins, const PoseEffect& effect, double fitting_turn) {
  double radius = 0;
  for (const PinClearance& pin : pins) radius = std::max(radius, pin.radius_mm + glm::length(pin.offset_mm));
  double best_turn = fitting_turn;
  double best = farthest_at_turn(pins, effect, best_turn);
  for (double step = 4 * radius / reach_of(pins) / 100; step > 1e-18; step /= 8) {
    const double middle = best_turn;
    for (int i = -100; i <= 100; ++i) {
      const double value = farthest_at_turn(pins, effect, middle + i * step);
      if (value > best) best = value, best_turn = middle + i * step;
    }
  }
  return best;
}

/// The least of a convex function of one number, by golden section.
double least_along(const std::function<double(double)>& f, double low, double high) {
  const double part = (std::sqrt(5.0) - 1) / 2;
  double a = high - part * (high - low);
  double b = low + part * (high - low);
  double fa = f(a);
  double fb = f(b);
  for (int i = 0; i < 62; ++i) {
    if (fa < fb) {
      high = b, b = a, fb = fa;
      a = high - part * (high - low);
      fa = f(a);
    } else {
      low = a, a = b, fa = fb;
      b = low + part * (high - low);
      fb = f(b);
    }
  }
  return std::min(fa, fb);
}

/// The least of a convex function of poses: the least over turns of the least over shifts.
double least_of(const std::function<double(const Pose&)>& f, Vec2 about, double shift, double turn) {
  return least_along(
      [&](double t) {
        return least_along(
            [&](double x) {
              return least_along([&](double y) { return f(moved({}, about, {x, y}, t)); }, -shift, shift);
            },
            -shift, shift);
      },
      -turn, turn);
}

double greatest_step(std::span<const Step> steps, const Pose& pose) {
  double greatest = 0;
  for (const Step& step : steps)
    greatest = std::max(greatest, std::abs(step.offset_mm + step.effect.of(pose)));
  return greatest;
}

std::vector<Step> random_steps(Dice& dice, Vec2 about) {
  std::vector<Step> steps;
  for (int i = dice.whole(1, 5); i > 0; --i) {
    const Vec2 along = dice.direction();
    steps.push_back({dice.between(-0.5, 0.5), {along, cross(about + dice.point(80), along)}});
  }
  return steps;
}

}  // namespace

TEST_CASE("the farthest pose is farthest, and within the pins, for 1 to 12 pins") {
  Dice dice(21);
  int fitted = 0;
  for (int i = 0; i < 600; ++i) {
    const int count = dice.whole(2, 12);
    const std::vector<PinClearance> pins = dice.pins(count, {.offsets = i % 2 == 1, .in_a_row = i % 5 == 0});
    const PoseEffect effect = i % 7 == 0   ? PoseEffect{.turn_mm = 1}
                              : i % 7 == 1 ? PoseEffect{.along = dice.direction()}
                                           : dice.effect();
    const FarthestPose found = farthest(pins, effect);
    REQUIRE(found.kind == ClearanceKind::held);
    ++fitted;
    CHECK(room_at(pins, found.pose) >= -1e-11);
    CHECK(found.value_mm == Approx(effect.of(found.pose)).margin(1e-11));
    CHECK(found.at_most_mm >= found.value_mm);
    CHECK(found.at_most_mm - found.value_mm <= 1e-9);
    const double by_turns = farthest_by_turns(pins, effect, found.pose.turn_rad);
    CHECK(by_turns <= found.at_most_mm + 1e-9);  // the search lets a pin out by 1e-12 mm
    CHECK(by_turns >= found.value_mm - 1e-9);
  }
  CHECK(fitted == 600);
  for (int i = 0; i < 50; ++i) {
    const std::vector<PinClearance> pins = dice.pins(1, {.offsets = true});
    const PoseEffect effect{.along = dice.direction()};
    const FarthestPose found = farthest(pins, effect);
    CHECK(found.value_mm == Approx(farthest_at_turn(pins, effect, 0)).margin(1e-9));
  }
}

TEST_CASE("no pose of a dense sample goes farther, and none near the farthest is missed") {
  Dice dice(22);
  for (int i = 0; i < 40; ++i) {
    const std::vector<PinClearance> pins = dice.pins(dice.whole(2, 12), {.offsets = i % 2 == 1});
    const PoseEffect effect = dice.effect();
    const FarthestPose found = farthest(pins, effect);
    const DeepestPose middle = *deepest(pins);
    REQUIRE(middle.room_mm > 0);
    double radius = 0;
    for (const PinClearance& pin : pins) radius = std::max(radius, pin.radius_mm);
    const Vec2 about = pins.front().at_mm;
    const double turn = 2 * radius / reach_of(pins);
    const int steps = 40;
    double sampled = -std::numeric_limits<double>::infinity();
    double sampled_near = sampled;  // of poses that let pins out by no more than a sampling step's motion
    const double step = 2 * radius / steps;
    const double step_motion = std::sqrt(2.0) / 2 * step + turn / steps / 2 * reach_of(pins);
    for (int x = -steps; x <= steps; ++x)
      for (int y = -steps; y <= steps; ++y)
        for (int t = -steps; t <= steps; ++t) {
          const Pose pose = moved(middle.pose, about, {x * step, y * step}, t * turn / steps);
          const double room = room_at(pins, pose);
          if (room >= 0) sampled = std::max(sampled, effect.of(pose));
          if (room >= -step_motion) sampled_near = std::max(sampled_near, effect.of(pose));
        }
    const double step_effect = std::sqrt(2.0) / 2 * step * glm::length(effect.along) +
                               turn / steps / 2 * std::abs(effect.turn_mm - cross(about, effect.along));
    CHECK(sampled <= found.at_most_mm);
    CHECK(found.value_mm <= sampled_near + step_effect);
  }
}

TEST_CASE("the bound is close for pins of any size and spacing") {
  Dice dice(23);
  int held = 0;
  for (int i = 0; i < 3000; ++i) {
    const test::PinRange range{.offsets = i % 2 == 1,
                               .in_a_row = i % 3 == 0,
                               .least_radius_mm = 0.001,
                               .greatest_radius_mm = 2,
                               .reach_mm = dice.sized(1, 1000)};
    std::vector<PinClearance> pins = dice.pins(dice.whole(2, 12), range);
    if (i % 4 == 0) pins[0].radius_mm = 0;  // pressed, off its place or not
    const PoseEffect effect = dice.effect();
    const FarthestPose found = farthest(pins, effect);
    CHECK((found.kind == ClearanceKind::no_fit) == (i % 4 == 0 && deepest(pins)->room_mm < -1e-9));
    if (found.kind == ClearanceKind::no_fit) continue;
    ++held;
    CHECK(room_at(pins, found.pose) >= -1e-9);
    CHECK(found.at_most_mm - found.value_mm <= std::max(1e-9, 1e-12 * std::abs(found.value_mm)));
    // Any way to the edge from the farthest pose is no farther.
    const Pose centre = deepest(pins)->pose;
    for (int k = 0; k < 20; ++k) {
      const Pose way{dice.direction(), dice.between(-1, 1) / reach_of(pins)};
      const double part = way_to_the_edge(pins, centre, way);
      if (!std::isfinite(part)) continue;
      const Pose edge{centre.shift_mm + part * way.shift_mm, centre.turn_rad + part * way.turn_rad};
      if (room_at(pins, edge) < -1e-11) continue;
      CHECK(effect.of(edge) <= found.at_most_mm + 1e-10 * std::max(1.0, std::abs(found.value_mm)));
    }
  }
  CHECK(held > 2000);
}

TEST_CASE("the bound stays close where pins are nearly pressed, and where many touch at one pose") {
  Dice dice(27);
  int touched = 0;
  for (int i = 0; i < 3000; ++i) {
    std::vector<PinClearance> pins = dice.pins(dice.whole(2, 8), {.least_radius_mm = 0.02});
    for (PinClearance& pin : pins) {
      if (i % 2 == 0 && dice.whole(0, 2) == 0) pin.radius_mm = dice.sized(2e-10, 1e-6);
      if (i % 2 == 1) pin.offset_mm = pin.radius_mm * (1 - dice.sized(1e-12, 1e-5)) * dice.direction();
    }
    const PoseEffect effect = dice.effect();
    const FarthestPose found = farthest(pins, effect);
    REQUIRE(found.kind == ClearanceKind::held);  // the pose of no motion fits
    CHECK(room_at(pins, found.pose) >= -1e-10);
    // No motion is a pose; pins that touch are taken as being in one place, beside it by next to nothing.
    const bool touching = deepest(pins)->room_mm <= 2e-10;
    touched += touching && i % 2 == 1 ? 1 : 0;
    CHECK(found.at_most_mm >= (touching ? -1e-6 : 0.0));
    CHECK(found.at_most_mm - found.value_mm <= 1e-9);
  }
  CHECK(touched > 10);
  CHECK(touched < 300);
}

TEST_CASE("whatever finite numbers come, an answer comes") {
  Dice dice(28);
  const std::array<double, 9> odd{0, 1e-300, 1e300, -1e300, 1e-12, 1, 50, 1e150, -1e-160};
  const auto any = [&] { return odd[static_cast<std::size_t>(dice.whole(0, 8))]; };
  for (int i = 0; i < 1000; ++i) {
    std::vector<PinClearance> pins;
    for (int k = dice.whole(1, 6); k > 0; --k)
      pins.push_back({.at_mm = {any(), any()}, .radius_mm = any(), .offset_mm = {any(), any()}});
    const PoseEffect effect{{any(), any()}, any()};
    CHECK_NOTHROW(farthest(pins, effect));
    CHECK_NOTHROW(deepest(pins));
    CHECK_NOTHROW(smallest_steps(pins, std::array{Step{any(), effect}}));
  }
}

TEST_CASE("the deepest pose leaves the most room") {
  Dice dice(24);
  for (int i = 0; i < 12; ++i) {
    std::vector<PinClearance> pins = dice.pins(dice.whole(2, 12), {.offsets = true});
    if (i % 3 == 0) pins.back().radius_mm = -0.05;
    const DeepestPose found = *deepest(pins);
    CHECK(room_at(pins, found.pose) >= found.room_mm - 1e-12);
    const double searched =
        -least_of([&](const Pose& pose) { return -room_at(pins, pose); }, pins.front().at_mm, 4, 0.2);
    CHECK(found.room_mm == Approx(searched).margin(1e-8));
  }
}

TEST_CASE("the best pose leaves the smallest greatest step") {
  Dice dice(25);
  for (int i = 0; i < 12; ++i) {
    const std::vector<PinClearance> pins =
        dice.pins(dice.whole(2, 12), {.offsets = i % 2 == 1, .least_radius_mm = 0.05});
    const std::vector<Step> steps = random_steps(dice, pins.front().at_mm);
    const BestPose found = *smallest_steps(pins, steps);
    CHECK(room_at(pins, found.pose) >= -1e-11);
    CHECK(greatest_step(steps, found.pose) == Approx(found.greatest_mm).margin(1e-11));
    CHECK(found.greatest_mm - found.at_least_mm <= 1e-9);
    // Poses outside are charged so steeply that none pays.
    const double searched = least_of(
        [&](const Pose& pose) {
          return greatest_step(steps, pose) + 1e3 * std::max(0.0, -room_at(pins, pose));
        },
        pins.front().at_mm, 4, 0.2);
    CHECK(searched == Approx(found.greatest_mm).margin(1e-6));
  }
}

TEST_CASE("the best pose's bound is close for pins of any size and spacing") {
  Dice dice(26);
  for (int i = 0; i < 2000; ++i) {
    std::vector<PinClearance> pins = dice.pins(dice.whole(0, 12), {.offsets = i % 2 == 1,
                                                                   .in_a_row = i % 3 == 0,
                                                                   .least_radius_mm = 0.001,
                                                                   .greatest_radius_mm = 2,
                                                                   .reach_mm = dice.sized(1, 1000)});
    if (i % 8 == 0 && !pins.empty()) pins[0].radius_mm = 0, pins[0].offset_mm = {0, 0};
    const std::vector<Step> steps = random_steps(dice, dice.point(100));
    const std::optional<BestPose> found = smallest_steps(pins, steps);
    if (!found) {
      CHECK(deepest(pins)->room_mm < -1e-10);
      continue;
    }
    if (!pins.empty()) CHECK(room_at(pins, found->pose) >= -1e-9);
    CHECK(found->at_least_mm <= found->greatest_mm);
    CHECK(found->greatest_mm - found->at_least_mm <= 1e-9);
  }
}
