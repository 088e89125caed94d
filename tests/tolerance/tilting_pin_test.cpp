// Pins that tilt in their holes: the bounds that stand for them, against closed forms and against searches in
// space that know nothing of those bounds.
#include "haftwright/tolerance/tilting_pin.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>

#include "haftwright/tolerance/sampling.hpp"
#include "support/nearly.hpp"
#include "tolerance/space_pins.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

bool short_run() {
  return std::getenv("HAFTWRIGHT_SHORT") != nullptr;
}

RimmedHole upright(double inner_mm, double outer_mm, double room_mm) {
  RimmedHole hole;
  hole.inner = {.z_mm = inner_mm, .room_mm = room_mm};
  hole.outer = {.z_mm = outer_mm, .room_mm = room_mm};
  return hole;
}

double least_radius(const std::vector<PinBound>& bounds) {
  double least = HUGE_VAL;
  for (const PinBound& bound : bounds) least = std::min(least, bound.radius_mm);
  return least;
}

double value_of(const Sensitivities& sensitivities, const std::vector<double>& errors) {
  double sum = 0;
  for (const Sensitivity& sensitivity : sensitivities)
    sum += sensitivity.mm_at_limit * errors[sensitivity.variable];
  return sum;
}

std::vector<double> errors_of(Random& random, std::size_t count) {
  std::vector<double> errors(count);
  for (double& error : errors) error = random.between(-1, 1);
  return errors;
}

/// Whether the clearance's bounds leave a pose.
bool leaves_a_pose(const PatternClearance& clearance, const std::vector<double>& errors) {
  std::vector<PinClearance> pins;
  for (const PinBound& pin : clearance.pins)
    pins.push_back({.at_mm = pin.at_mm,
                    .radius_mm = pin.radius_mm + value_of(pin.radius, errors),
                    .offset_mm = {value_of(pin.offset_x, errors), value_of(pin.offset_y, errors)}});
  const auto room = deepest(pins);
  if (room) return room->room_mm >= -1e-6;
  // One pin: its motion, and no turn.
  for (PinClearance& pin : pins) pin.at_mm = {0, 0};
  pins.push_back({.at_mm = {1000, 0}, .radius_mm = 1e3});
  return deepest(pins)->room_mm >= -1e-6;
}

struct Disc {
  Vec2 middle{0, 0};
  double radius = 0;
};

/// Whether discs have a point in common: if so, a middle is one, or a crossing of two edges.
bool share_a_point(const std::vector<Disc>& discs) {
  const auto within_all = [&](Vec2 p) {
    return std::ranges::all_of(
        discs, [&](const Disc& disc) { return glm::distance(p, disc.middle) <= disc.radius + 1e-9; });
  };
  for (std::size_t i = 0; i < discs.size(); ++i) {
    if (within_all(discs[i].middle)) return true;
    for (std::size_t j = 0; j < i; ++j) {
      const Vec2 between = discs[j].middle - discs[i].middle;
      const double apart = glm::length(between);
      if (apart == 0) continue;
      const double part =
          (apart * apart + discs[i].radius * discs[i].radius - discs[j].radius * discs[j].radius) /
          (2 * apart);
      const double half = std::sqrt(std::max(0.0, discs[i].radius * discs[i].radius - part * part));
      for (const double side : {-half, half})
        if (within_all(discs[i].middle + (part * between + side * turned_left(between)) / apart)) return true;
    }
  }
  return false;
}

/// Whether one pin passes when the left scale has moved: all tilts on a grid are tried.
bool passes(const SpacePin& pin, const std::vector<double>& errors, Vec2 motion) {
  const auto middle = [&](const Rim& rim) { return Vec2{value_of(rim.x, errors), value_of(rim.y, errors)}; };
  const auto room = [&](const Rim& rim) { return rim.room_mm + value_of(rim.room, errors); };
  const double length = pin.tang.length_mm();
  const Vec2 slope = (middle(pin.tang.inner) - middle(pin.tang.outer)) / length;
  const double reach = (room(pin.tang.inner) + room(pin.tang.outer)) / length;
  constexpr int kSteps = 40;
  for (int i = -kSteps; i <= kSteps; ++i)
    for (int j = -kSteps; j <= kSteps; ++j) {
      const Vec2 off = Vec2{i, j} * (reach / kSteps);
      if (glm::length(off) > reach) continue;
      std::vector<Disc> discs;
      for (const Rim* rim : {&pin.left.inner, &pin.left.outer, &pin.right.inner, &pin.right.outer}) {
        const Vec2 moved = rim->z_mm > 0 ? motion : Vec2{0, 0};
        discs.push_back({middle(*rim) + moved - rim->z_mm * (slope + off), room(*rim)});
      }
      if (share_a_point(discs)) return true;
    }
  return false;
}

bool allowed(const std::vector<PinBound>& bounds, const std::vector<double>& errors, Vec2 motion) {
  return std::ranges::all_of(bounds, [&](const PinBound& bound) {
    const Vec2 off{value_of(bound.offset_x, errors), value_of(bound.offset_y, errors)};
    return glm::length(motion + off) <= bound.radius_mm + value_of(bound.radius, errors) + 1e-9;
  });
}

}  // namespace

TEST_CASE("upright holes: a pin that tilts lets the scales part by 2 r (1 + t/h)") {
  constexpr double r = 0.05;
  for (const double t : {2.0, 4.0, 6.0})
    for (const double h : {4.0, 8.0, 12.0}) {
      const RimmedHole left = upright(t / 2, t / 2 + h, r);
      const RimmedHole right = upright(-t / 2, -t / 2 - h, r);
      CHECK(least_radius(tilting_pin({}, left, right, nullptr)) == test::nearly(2 * r * (1 + t / h)));
      // Tilted by no more than a tight hole of the tang lets it: that much over the tang more than upright.
      const RimmedHole tight = upright(t / 2, -t / 2, 0.001);
      CHECK(least_radius(tilting_pin({}, left, right, &tight)) == test::nearly(2 * r + 2 * 0.001));
    }
  // Scales that meet leave no tang to tilt over; unequal holes: the longer one holds the pin's slope best.
  CHECK(least_radius(tilting_pin({}, upright(0, 8, r), upright(0, -8, r), nullptr)) == test::nearly(2 * r));
  CHECK(least_radius(tilting_pin({}, upright(2, 18, r), upright(-2, -6, 0.2), nullptr)) ==
        test::nearly(r * (1 + 2 * 4 / 16.0) + 0.2));
}

TEST_CASE("no motion that some tilt of the pin allows is beyond the bounds, and few within are not") {
  Random random(7);
  std::size_t possible = 0, within = 0;
  const int cases = short_run() ? 6 : 24;
  for (int i = 0; i < cases; ++i) {
    const SpaceHandle handle = SpaceMaker(random, {}).handle(1);
    const SpacePin& pin = handle.pins.front();
    const std::vector<double> errors = errors_of(random, handle.variables);
    const auto bounds = tilting_pin(pin.at_mm, pin.left, pin.right, &pin.tang);
    for (int k = 0; k < 40; ++k) {
      const Vec2 motion{random.between(-0.4, 0.4), random.between(-0.4, 0.4)};
      const bool is_allowed = allowed(bounds, errors, motion);
      const bool does_pass = (is_allowed || k % 4 == 0) && passes(pin, errors, motion);
      if (does_pass) CHECK(is_allowed);
      possible += does_pass ? 1 : 0;
      within += is_allowed ? 1 : 0;
    }
  }
  INFO(possible << " possible, " << within << " within the bounds");
  REQUIRE(possible > 30);
  CHECK(10 * possible >= 9 * within);
}

TEST_CASE("handles bind in as many samples as in space, or a little fewer") {
  Random random(11);
  std::size_t fit = 0, bound = 0, all = 0;
  const int handles = short_run() ? 30 : 150;
  for (int i = 0; i < handles; ++i) {
    const SpaceHandle handle =
        SpaceMaker(random, {.place_mm = 0.09, .lean = 0.02}).handle(random.count(1, 4));
    const ToleranceStack stack = stack_of(handle, {.along = {1, 0}});
    SpaceSearch search(handle);
    for (int k = 0; k < 4; ++k, ++all) {
      const std::vector<double> errors = errors_of(random, handle.variables);
      const bool leaves = std::ranges::all_of(stack.clearances, [&](const PatternClearance& clearance) {
        return leaves_a_pose(clearance, errors);
      });
      const bool fits = search.fits(errors, leaves ? 6000 : 300);
      // What was found in space is proof; what was not may have been missed.
      if (fits) CHECK(leaves);
      fit += fits ? 1 : 0;
      bound += leaves ? 1 : 0;
    }
  }
  INFO(fit << " of " << all << " go in, " << bound << " by the bounds");
  CHECK(fit > all / 5);
  CHECK(fit < all * 4 / 5);
  // 4 in 100 at this rate of interference, and five standard errors of such a count.
  const double share = static_cast<double>(bound - fit) / static_cast<double>(all);
  CHECK(share <= 0.04 + 5 * std::sqrt(0.04 * 0.96 / static_cast<double>(all)));
}

TEST_CASE("nothing in space goes beyond the worst case, and the farthest comes near") {
  Random random(13);
  double least_share = 1, sum = 0;
  const int handles = short_run() ? 6 : 30;
  for (int i = 0; i < handles; ++i) {
    const std::size_t pins = random.count(2, 4);
    const SpaceHandle handle = SpaceMaker(random, {}).handle(pins);
    const Vec2 p{random.between(-5, 105), random.between(-10, 10)};
    const Vec2 along = random.chance(0.5) ? Vec2{1, 0} : Vec2{0.6, 0.8};
    const PoseEffect effect{along, cross(p, along)};
    const double worst = limits_of(stack_of(handle, effect), 0).clearance;
    SpaceSearch search(handle);
    CHECK_FALSE(search.reaches(effect, worst * (1 + 1e-4), 300));
    double low = 0, high = worst;
    while (high - low > 0.01 * worst) {
      const double middle = (low + high) / 2;
      (search.reaches(effect, middle, 15000) ? low : high) = middle;
    }
    least_share = std::min(least_share, low / worst);
    sum += low / worst;
  }
  INFO("at least " << least_share << ", on average " << sum / handles);
  CHECK(least_share > 0.9);
}
