// Straight pins through the holes of two scales and a tang, in space: whether there are poses of the bodies
// and lines of the pins with which every pin passes every rim, sought by projections in all unknowns at once.
// Knows nothing of the bounds that stand for it in a stack.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "haftwright/tolerance/stack.hpp"
#include "haftwright/tolerance/tilting_pin.hpp"
#include "support/random.hpp"

namespace haftwright::test {

/// One pin's holes: the tang's inner rim is the one toward the left scale.
struct SpacePin {
  Vec2 at_mm{0, 0};
  RimmedHole left;
  RimmedHole right;
  RimmedHole tang;
};

struct SpaceHandle {
  std::vector<SpacePin> pins;
  std::size_t variables = 0;
};

struct SpaceErrors {
  double room_mm = 0.1;  ///< most
  double place_mm = 0.03;
  double lean = 0.005;
  double room_spread_mm = 0.005;
};

class SpaceMaker {
 public:
  SpaceMaker(Random& random, const SpaceErrors& errors) : random_(random), errors_(errors) {}

  SpaceHandle handle(std::size_t pins) {
    const double tang_mm = random_.between(2, 5);
    const double height_mm = random_.between(5, 12);
    for (std::size_t i = 0; i < pins; ++i) {
      SpacePin& pin = made_.pins.emplace_back();
      pin.at_mm = {pins == 1 ? 50 : 15 + 70 * static_cast<double>(i) / static_cast<double>(pins - 1),
                   random_.between(-6, 6)};
      pin.left = hole(tang_mm / 2, tang_mm / 2 + height_mm);
      pin.right = hole(-tang_mm / 2, -tang_mm / 2 - height_mm);
      pin.tang = hole(tang_mm / 2, -tang_mm / 2);
    }
    return std::move(made_);
  }

 private:
  Sensitivities own(double mm) { return {{made_.variables++, mm}}; }

  /// As if drilled from its inner rim outward.
  RimmedHole hole(double inner_mm, double outer_mm) {
    RimmedHole made;
    made.inner = {.z_mm = inner_mm, .room_mm = random_.between(0.3, 1) * errors_.room_mm};
    made.inner.room = own(errors_.room_spread_mm);
    made.inner.x = own(errors_.place_mm);
    made.inner.y = own(errors_.place_mm);
    made.outer = made.inner;
    made.outer.z_mm = outer_mm;
    const double rise = errors_.lean * std::abs(outer_mm - inner_mm);
    made.outer.x.push_back({made_.variables++, rise});
    made.outer.y.push_back({made_.variables++, rise});
    return made;
  }

  Random& random_;
  SpaceErrors errors_;
  SpaceHandle made_;
};

/// The bounds that a stack has for the handle: left against right, and the tang against each.
inline ToleranceStack stack_of(const SpaceHandle& handle, const PoseEffect& effect) {
  ToleranceStack stack;
  stack.contributors.push_back({"hole", "a hole"});
  stack.variables.assign(handle.variables, {DistributionShape::rectangular, 0});
  stack.measures.push_back({.nominal = 0, .visible = 1e3});
  PatternClearance scales{.effects = {effect}};
  PatternClearance on_left{.use = PatternClearance::Use::samples, .effects = {PoseEffect{}}};
  PatternClearance on_right = on_left;
  const auto append = [](PatternClearance& clearance, const std::vector<PinBound>& bounds) {
    clearance.pins.insert(clearance.pins.end(), bounds.begin(), bounds.end());
  };
  for (const SpacePin& pin : handle.pins) {
    append(scales, tilting_pin(pin.at_mm, pin.left, pin.right, &pin.tang));
    append(on_left, tilting_pin(pin.at_mm, pin.tang, pin.left, nullptr));
    RimmedHole tang = pin.tang;
    std::swap(tang.inner, tang.outer);
    append(on_right, tilting_pin(pin.at_mm, tang, pin.right, nullptr));
  }
  stack.clearances = {scales, on_left, on_right};
  return stack;
}

/// All unknowns: the left scale's pose, the tang's pose, of each pin where it crosses z = 0 and its slope,
/// and the errors. The right scale stands still.
class SpaceSearch {
 public:
  explicit SpaceSearch(const SpaceHandle& handle) : handle_(handle) {
    for (std::size_t i = 0; i < handle.pins.size(); ++i) {
      const SpacePin& pin = handle.pins[i];
      for (const Rim* rim : {&pin.left.inner, &pin.left.outer}) add(i, *rim, kLeft);
      for (const Rim* rim : {&pin.right.inner, &pin.right.outer}) add(i, *rim, kNowhere);
      for (const Rim* rim : {&pin.tang.inner, &pin.tang.outer}) add(i, *rim, kTang);
    }
  }

  /// Whether all pins go in with these errors.
  bool fits(const std::vector<double>& errors, int sweeps) {
    start();
    std::ranges::copy(errors, x_.begin() + static_cast<std::ptrdiff_t>(first_error()));
    return settle(sweeps, false, nullptr, 0);
  }

  /// Whether some errors within their limits let the left scale go as far as `value_mm`.
  bool reaches(const PoseEffect& effect, double value_mm, int sweeps) {
    start();
    return settle(sweeps, true, &effect, value_mm);
  }

 private:
  static constexpr std::size_t kLeft = 0, kTang = 3, kNowhere = 6;
  // So that every unknown does about as much: turns of 1 mm in 50, slopes of 1 mm in 8, errors of 0.02 mm.
  static constexpr double kTurn = 1 / 50.0, kSlope = 1 / 8.0, kError = 1 / 0.02;
  static constexpr Vec2 kMiddle{50, 0};
  static constexpr double kCloseEnoughMm = 1e-7;

  struct Part {
    std::size_t unknown;
    Vec2 does;    // to the pin's place against the rim's middle
    double room;  // to the rim's room
  };
  struct RimBound {
    double room_mm;
    std::vector<Part> parts;
  };

  std::size_t pin_at(std::size_t pin) const { return 6 + 4 * pin; }
  std::size_t first_error() const { return 6 + 4 * handle_.pins.size(); }

  void add(std::size_t pin, const Rim& rim, std::size_t body) {
    RimBound bound{.room_mm = rim.room_mm};
    const std::size_t p = pin_at(pin);
    bound.parts = {{p, {1, 0}, 0},
                   {p + 1, {0, 1}, 0},
                   {p + 2, {rim.z_mm * kSlope, 0}, 0},
                   {p + 3, {0, rim.z_mm * kSlope}, 0}};
    if (body != kNowhere) {
      const Vec2 from = handle_.pins[pin].at_mm - kMiddle;
      bound.parts.push_back({body, {-1, 0}, 0});
      bound.parts.push_back({body + 1, {0, -1}, 0});
      bound.parts.push_back({body + 2, {from.y * kTurn, -from.x * kTurn}, 0});
    }
    const std::size_t e = first_error();
    for (const Sensitivity& sensitivity : rim.x)
      bound.parts.push_back({e + sensitivity.variable, {-sensitivity.mm_at_limit, 0}, 0});
    for (const Sensitivity& sensitivity : rim.y)
      bound.parts.push_back({e + sensitivity.variable, {0, -sensitivity.mm_at_limit}, 0});
    for (const Sensitivity& sensitivity : rim.room)
      bound.parts.push_back({e + sensitivity.variable, {0, 0}, sensitivity.mm_at_limit});
    bounds_.push_back(std::move(bound));
  }

  void start() { x_.assign(first_error() + handle_.variables, 0.0); }

  bool settle(int sweeps, bool errors_free, const PoseEffect* effect, double value_mm) {
    for (int sweep = 0; sweep < sweeps; ++sweep) {
      bool inside = true;
      for (const RimBound& bound : bounds_) inside = project(bound, errors_free) && inside;
      if (errors_free)
        for (std::size_t i = first_error(); i < x_.size(); ++i) x_[i] = std::clamp(x_[i], -1.0, 1.0);
      if (effect != nullptr) inside = reach(*effect, value_mm) && inside;
      if (inside) return true;
    }
    return false;
  }

  bool project(const RimBound& bound, bool errors_free) {
    Vec2 off{0, 0};
    double room = bound.room_mm;
    for (const Part& part : bound.parts) {
      off += x_[part.unknown] * part.does;
      room += x_[part.unknown] * part.room;
    }
    const double length = glm::length(off);
    const double over = length - room;
    if (over <= kCloseEnoughMm) return true;
    const Vec2 out = length > 0 ? off / length : Vec2{1, 0};
    double squares = 0;
    for (const Part& part : bound.parts) squares += slope(part, out) * step(part, out, errors_free);
    for (const Part& part : bound.parts)
      x_[part.unknown] -= 1.6 * over / squares * step(part, out, errors_free);
    return false;
  }
  static double slope(const Part& part, Vec2 out) { return glm::dot(part.does, out) - part.room; }
  double step(const Part& part, Vec2 out, bool errors_free) const {
    if (part.unknown < first_error()) return slope(part, out);
    return errors_free ? slope(part, out) * kError * kError : 0;
  }

  bool reach(const PoseEffect& effect, double value_mm) {
    // About the middle: shift there, and turn.
    const double turn = (effect.turn_mm - cross(kMiddle, effect.along)) * kTurn;
    const double lacks = value_mm - effect.along.x * x_[0] - effect.along.y * x_[1] - turn * x_[2];
    if (lacks <= kCloseEnoughMm) return true;
    const double squares = glm::dot(effect.along, effect.along) + turn * turn;
    x_[0] += lacks / squares * effect.along.x;
    x_[1] += lacks / squares * effect.along.y;
    x_[2] += lacks / squares * turn;
    return false;
  }

  const SpaceHandle& handle_;
  std::vector<RimBound> bounds_;
  std::vector<double> x_;
};

}  // namespace haftwright::test
