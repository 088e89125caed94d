#include "sample_program.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>

namespace haftwright::tolerance {
namespace {

/// Pins nearer to each other than this stand on one spot: nothing in a shop is known finer.
constexpr double one_spot_mm = 1e-6;

float single(double number) {
  if (!(std::abs(number) < 1e6))
    throw std::invalid_argument("a number of the stack is not finite or too great");
  return static_cast<float>(number);
}

/// The greatest float that is at most `x`: for a float y, y > x is the same as y > this.
float at_most(double x) {
  const auto near = static_cast<float>(std::clamp(x, -1e30, 1e30));
  return near > x ? std::nextafter(near, -std::numeric_limits<float>::infinity()) : near;
}

std::pair<std::size_t, std::size_t> farthest_apart(const std::vector<PinBound>& pins) {
  std::pair<std::size_t, std::size_t> ends{0, 0};
  double most = 0;
  for (std::size_t i = 0; i < pins.size(); ++i)
    for (std::size_t j = i + 1; j < pins.size(); ++j)
      if (const double apart = glm::distance(pins[i].at_mm, pins[j].at_mm); apart > most) {
        most = apart;
        ends = {i, j};
      }
  return ends;
}

using Row = std::array<double, 3>;

/// Inverse of the symmetric matrix of the normal equations.
std::array<Row, 3> inverse(const std::array<Row, 3>& m) {
  const auto minor = [&](std::size_t i, std::size_t j) {
    const std::size_t a = (i + 1) % 3, b = (i + 2) % 3, c = (j + 1) % 3, d = (j + 2) % 3;
    return m[a][c] * m[b][d] - m[a][d] * m[b][c];
  };
  const double determinant = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
  std::array<Row, 3> result;
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) result[i][j] = minor(j, i) / determinant;
  return result;
}

/// What (p, alpha, beta) do to the place of each pin: along, square, along, ...
std::vector<Row> motions(const std::vector<SampledPin>& pins) {
  std::vector<Row> rows;
  for (const SampledPin& pin : pins) {
    rows.push_back({1, pin.aside, -pin.aside});
    rows.push_back({0, 1 - pin.share, pin.share});
  }
  return rows;
}

/// The linear map from hole offsets to the pose that brings the holes nearest to their pins.
std::vector<float> nearest_map(const std::vector<SampledPin>& pins, bool turns) {
  const std::vector<Row> rows = motions(pins);
  std::array<Row, 3> normal{};
  for (const Row& row : rows)
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j) normal[i][j] += row[i] * row[j];
  if (!turns) normal[2][2] = 1;  // every pin moves the same: the third coordinate does nothing
  const std::array<Row, 3> inverted = inverse(normal);
  std::vector<float> map;
  for (std::size_t coordinate = 0; coordinate < 3; ++coordinate)
    for (const Row& row : rows) {
      double part = 0;
      for (std::size_t j = 0; j < 3; ++j) part -= inverted[coordinate][j] * row[j];
      map.push_back(static_cast<float>(part));
    }
  return map;
}

/// See SampledPin::move. Its rows along and square are not at right angles: a 2 by 2 system.
void settle_move(SampledPin& pin) {
  const Row along{1, pin.aside, -pin.aside};
  const Row square{0, 1 - pin.share, pin.share};
  double aa = 0, as = 0, ss = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    aa += along[i] * along[i];
    as += along[i] * square[i];
    ss += square[i] * square[i];
  }
  const double determinant = aa * ss - as * as;
  for (std::size_t i = 0; i < 3; ++i) {
    pin.move[i][0] = static_cast<float>((ss * along[i] - as * square[i]) / determinant);
    pin.move[i][1] = static_cast<float>((aa * square[i] - as * along[i]) / determinant);
  }
}

}  // namespace

SampleProgram::SampleProgram(const ToleranceStack& stack, std::uint64_t seed) {
  stack_.seed = seed;
  stack_.crept = stack.crept;
  stack_.variables = static_cast<std::uint32_t>(stack.variables.size());
  used_.assign(stack.variables.size(), false);
  measures(stack);
  clearances(stack);
  fours(stack);
}

SampledSensitivity SampleProgram::one(const Sensitivity& sensitivity) {
  if (sensitivity.variable >= used_.size())
    throw std::invalid_argument("a sensitivity names variable " + std::to_string(sensitivity.variable) +
                                " of " + std::to_string(used_.size()));
  if (sensitivity.mm_at_limit != 0) used_[sensitivity.variable] = true;
  return {static_cast<std::uint32_t>(sensitivity.variable), single(sensitivity.mm_at_limit)};
}

/// One sensitivity a variable, in the order of the variables: what enters on both sides alike cancels
/// exactly.
List<SampledSensitivity> SampleProgram::gathered(const Sensitivities& x, double of_x, const Sensitivities& y,
                                                 double of_y) {
  std::map<std::size_t, double> sizes;
  for (const Sensitivity& sensitivity : x) sizes[sensitivity.variable] += of_x * sensitivity.mm_at_limit;
  for (const Sensitivity& sensitivity : y) sizes[sensitivity.variable] += of_y * sensitivity.mm_at_limit;
  std::vector<SampledSensitivity> list;
  for (const auto& [variable, size] : sizes)
    if (const SampledSensitivity sampled = one({variable, size}); size != 0) list.push_back(sampled);
  return keep(sensitivity_lists_, std::move(list));
}

SampledPin SampleProgram::pin(const PinBound& from, Vec2 axis) {
  SampledPin sampled;
  sampled.radius = single(from.radius_mm);
  sampled.offset_along = gathered(from.offset_x, axis.x, from.offset_y, axis.y);
  sampled.offset_square = gathered(from.offset_x, -axis.y, from.offset_y, axis.x);
  sampled.radius_sensitivities = sensitivities(from.radius);
  return sampled;
}

/// Pins and effects in the clearance's own axes; see SampledPin.
void SampleProgram::settle_axes(const PatternClearance& from, SampledClearance& to,
                                std::vector<SampledPin>& pins) {
  const auto [a, b] = farthest_apart(from.pins);
  const Vec2 start = from.pins.empty() ? from.about_mm : from.pins[a].at_mm;
  const Vec2 way = from.pins.empty() ? Vec2{0, 0} : from.pins[b].at_mm - start;
  const double length = glm::length(way);
  const bool held = length > one_spot_mm;
  to.hold = held                ? SampledClearance::Hold::held
            : from.pins.empty() ? SampledClearance::Hold::none
                                : SampledClearance::Hold::one_spot;
  const Vec2 axis = held ? way / length : Vec2{1, 0};
  const Vec2 square{-axis.y, axis.x};
  for (const PinBound& stack_pin : from.pins) {
    SampledPin sampled = pin(stack_pin, axis);
    if (held) {
      sampled.share = single(glm::dot(stack_pin.at_mm - start, axis) / length);
      sampled.aside = single(glm::dot(stack_pin.at_mm - start, square) / length);
    }
    sampled.at_a = glm::distance(stack_pin.at_mm, start) <= one_spot_mm;
    sampled.at_b = glm::distance(stack_pin.at_mm, from.pins[b].at_mm) <= one_spot_mm;
    settle_move(sampled);
    pins.push_back(sampled);
  }
  std::vector<float> effects;
  for (const PoseEffect& effect : from.effects) {
    const double p = glm::dot(effect.along, axis);
    const double q = glm::dot(effect.along, square);
    const double lever = effect.turn_mm - cross(start, effect.along);
    effects.push_back(single(p));
    effects.push_back(single(held ? q - lever / length : q));
    effects.push_back(single(held ? lever / length : lever));
  }
  to.only_fit = std::ranges::all_of(from.effects, [](const PoseEffect& e) { return e == PoseEffect{}; });
  to.effects = keep(number_lists_, std::move(effects)).first;
}

SampledClearance SampleProgram::clearance(const PatternClearance& from, std::uint32_t stream) {
  SampledClearance to;
  to.stream = stream;
  std::vector<SampledPin> pins;
  settle_axes(from, to, pins);
  if (!pins.empty())
    to.nearest = keep(number_lists_, nearest_map(pins, to.hold == SampledClearance::Hold::held)).first;
  most_pins_ = std::max(most_pins_, pins.size());
  to.pins = keep(pin_lists_, std::move(pins));
  std::vector<SampledRoom> rooms;
  for (const PinRoom& room : from.rooms) rooms.push_back({single(room.room_mm), sensitivities(room.room)});
  to.rooms = keep(room_lists_, std::move(rooms));
  if (to.hold == SampledClearance::Hold::none) {
    to.free_along = sensitivities(from.free_along);
    to.free_across = sensitivities(from.free_across);
  }
  if (to.hold != SampledClearance::Hold::held) to.free_turn = sensitivities(from.free_turn);
  return to;
}

void SampleProgram::measures(const ToleranceStack& stack) {
  for (const Measure& measure : stack.measures) {
    single(measure.nominal);
    if (measure.kind == Measure::Kind::step_mm)
      greatest_nominal_ = std::max(greatest_nominal_, std::abs(measure.nominal));
  }
  for (const Measure& measure : stack.measures) {
    SampledMeasure sampled;
    sampled.sensitivities = sensitivities(measure.sensitivities);
    sampled.shows_above = at_most(measure.visible - measure.nominal);
    sampled.shows_below = -at_most(measure.visible + measure.nominal);
    sampled.is_step = measure.kind == Measure::Kind::step_mm;
    sampled.above_greatest = static_cast<float>(measure.nominal - greatest_nominal_);
    sampled.below_greatest = static_cast<float>(-measure.nominal - greatest_nominal_);
    measures_.push_back(sampled);
  }
  stack_.measures = {measures_.data(), static_cast<std::uint32_t>(measures_.size())};
}

void SampleProgram::clearances(const ToleranceStack& stack) {
  for (std::size_t p = 0; p < stack.clearances.size(); ++p) {
    const PatternClearance& one_clearance = stack.clearances[p];
    if (one_clearance.effects.size() != stack.measures.size())
      throw std::invalid_argument("a clearance has " + std::to_string(one_clearance.effects.size()) +
                                  " effects for " + std::to_string(stack.measures.size()) + " measures");
    const std::size_t numbers = one_clearance.numbers_of.value_or(p);
    if (numbers > p) throw std::invalid_argument("a clearance takes the numbers of a later one");
    if (one_clearance.use != PatternClearance::Use::limits)
      clearances_.push_back(clearance(one_clearance, static_cast<std::uint32_t>(numbers + 1)));
  }
  stack_.clearances = {clearances_.data(), static_cast<std::uint32_t>(clearances_.size())};
}

/// Only variables that some sensitivity uses are sampled; which random number a variable gets hangs on its
/// index alone.
void SampleProgram::fours(const ToleranceStack& stack) {
  for (std::size_t first = 0; first < stack.variables.size(); first += 4) {
    SampledFour four{.first = static_cast<std::uint32_t>(first)};
    bool any = false;
    for (std::size_t i = 0; i < 4 && first + i < stack.variables.size(); ++i) {
      four.normal[i] = stack.variables[first + i].shape == DistributionShape::normal;
      four.used[i] = used_[first + i];
      any = any || four.used[i];
    }
    if (any) fours_.push_back(four);
  }
  stack_.fours = {fours_.data(), static_cast<std::uint32_t>(fours_.size())};
}

}  // namespace haftwright::tolerance
