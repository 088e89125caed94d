#include "draw_program.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>

namespace haftwright::alignment {
namespace {

/// Pins nearer to each other than this stand on one spot: nothing in a shop is known finer.
constexpr double one_spot_mm = 1e-6;

float single(double number) {
  if (!(std::abs(number) < 1e6))
    throw std::invalid_argument("a number of the chain is not finite or too great");
  return static_cast<float>(number);
}

/// The greatest float that is at most `x`: for a float y, y > x is the same as y > this.
float at_most(double x) {
  const auto near = static_cast<float>(std::clamp(x, -1e30, 1e30));
  return near > x ? std::nextafter(near, -std::numeric_limits<float>::infinity()) : near;
}

std::pair<std::size_t, std::size_t> farthest_apart(const std::vector<ChainPin>& pins) {
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
std::vector<Row> motions(const std::vector<DrawnPin>& pins) {
  std::vector<Row> rows;
  for (const DrawnPin& pin : pins) {
    rows.push_back({1, pin.aside, -pin.aside});
    rows.push_back({0, 1 - pin.share, pin.share});
  }
  return rows;
}

/// The linear map from hole offsets to the pose that brings the holes nearest to their pins.
std::vector<float> nearest_map(const std::vector<DrawnPin>& pins, bool turns) {
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

/// See DrawnPin::move. Its rows along and square are not at right angles: a 2 by 2 system.
void settle_move(DrawnPin& pin) {
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

DrawProgram::DrawProgram(const Chain& chain, std::uint64_t seed) {
  chain_.seed = seed;
  chain_.crept = chain.crept;
  chain_.variables = static_cast<std::uint32_t>(chain.variables.size());
  used_.assign(chain.variables.size(), false);
  measures(chain);
  plays(chain);
  fours(chain);
}

DrawnTerm DrawProgram::one(const Term& term) {
  if (term.variable >= used_.size())
    throw std::invalid_argument("a term names variable " + std::to_string(term.variable) + " of " +
                                std::to_string(used_.size()));
  if (term.mm_at_limit != 0) used_[term.variable] = true;
  return {static_cast<std::uint32_t>(term.variable), single(term.mm_at_limit)};
}

/// One term a variable, in the order of the variables: what enters on both sides alike cancels exactly.
List<DrawnTerm> DrawProgram::gathered(const Terms& x, double of_x, const Terms& y, double of_y) {
  std::map<std::size_t, double> sizes;
  for (const Term& term : x) sizes[term.variable] += of_x * term.mm_at_limit;
  for (const Term& term : y) sizes[term.variable] += of_y * term.mm_at_limit;
  std::vector<DrawnTerm> list;
  for (const auto& [variable, size] : sizes)
    if (const DrawnTerm drawn = one({variable, size}); size != 0) list.push_back(drawn);
  return keep(term_lists_, std::move(list));
}

DrawnPin DrawProgram::pin(const ChainPin& from, Vec2 axis) {
  DrawnPin drawn;
  drawn.radius = single(from.radius_mm);
  drawn.offset_along = gathered(from.offset_x, axis.x, from.offset_y, axis.y);
  drawn.offset_square = gathered(from.offset_x, -axis.y, from.offset_y, axis.x);
  drawn.radius_terms = terms(from.radius);
  return drawn;
}

/// Pins and effects in the play's own axes; see DrawnPin.
void DrawProgram::settle_axes(const Play& from, DrawnPlay& to, std::vector<DrawnPin>& pins) {
  const auto [a, b] = farthest_apart(from.pins);
  const Vec2 start = from.pins.empty() ? from.about_mm : from.pins[a].at_mm;
  const Vec2 way = from.pins.empty() ? Vec2{0, 0} : from.pins[b].at_mm - start;
  const double length = glm::length(way);
  const bool held = length > one_spot_mm;
  to.hold = held                ? DrawnPlay::Hold::held
            : from.pins.empty() ? DrawnPlay::Hold::none
                                : DrawnPlay::Hold::one_spot;
  const Vec2 axis = held ? way / length : Vec2{1, 0};
  const Vec2 square{-axis.y, axis.x};
  for (const ChainPin& chain_pin : from.pins) {
    DrawnPin drawn = pin(chain_pin, axis);
    if (held) {
      drawn.share = single(glm::dot(chain_pin.at_mm - start, axis) / length);
      drawn.aside = single(glm::dot(chain_pin.at_mm - start, square) / length);
    }
    drawn.at_a = glm::distance(chain_pin.at_mm, start) <= one_spot_mm;
    drawn.at_b = glm::distance(chain_pin.at_mm, from.pins[b].at_mm) <= one_spot_mm;
    settle_move(drawn);
    pins.push_back(drawn);
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

DrawnPlay DrawProgram::play(const Play& from, std::uint32_t stream) {
  DrawnPlay to;
  to.stream = stream;
  std::vector<DrawnPin> pins;
  settle_axes(from, to, pins);
  if (!pins.empty())
    to.nearest = keep(number_lists_, nearest_map(pins, to.hold == DrawnPlay::Hold::held)).first;
  most_pins_ = std::max(most_pins_, pins.size());
  to.pins = keep(pin_lists_, std::move(pins));
  std::vector<DrawnRoom> rooms;
  for (const PinRoom& room : from.rooms) rooms.push_back({single(room.room_mm), terms(room.room)});
  to.rooms = keep(room_lists_, std::move(rooms));
  if (to.hold == DrawnPlay::Hold::none) {
    to.free_along = terms(from.free_along);
    to.free_across = terms(from.free_across);
  }
  if (to.hold != DrawnPlay::Hold::held) to.free_turn = terms(from.free_turn);
  return to;
}

void DrawProgram::measures(const Chain& chain) {
  for (const Measure& measure : chain.measures) {
    single(measure.nominal);
    if (measure.kind == Measure::Kind::step_mm)
      greatest_nominal_ = std::max(greatest_nominal_, std::abs(measure.nominal));
  }
  for (const Measure& measure : chain.measures) {
    DrawnMeasure drawn;
    drawn.terms = terms(measure.terms);
    drawn.shows_above = at_most(measure.visible - measure.nominal);
    drawn.shows_below = -at_most(measure.visible + measure.nominal);
    drawn.is_step = measure.kind == Measure::Kind::step_mm;
    drawn.above_greatest = static_cast<float>(measure.nominal - greatest_nominal_);
    drawn.below_greatest = static_cast<float>(-measure.nominal - greatest_nominal_);
    measures_.push_back(drawn);
  }
  chain_.measures = {measures_.data(), static_cast<std::uint32_t>(measures_.size())};
}

void DrawProgram::plays(const Chain& chain) {
  for (std::size_t p = 0; p < chain.plays.size(); ++p) {
    const Play& one_play = chain.plays[p];
    if (one_play.effects.size() != chain.measures.size())
      throw std::invalid_argument("a play has " + std::to_string(one_play.effects.size()) + " effects for " +
                                  std::to_string(chain.measures.size()) + " measures");
    const std::size_t numbers = one_play.numbers_of.value_or(p);
    if (numbers > p) throw std::invalid_argument("a play takes the numbers of a later one");
    if (one_play.use != Play::Use::limits)
      plays_.push_back(play(one_play, static_cast<std::uint32_t>(numbers + 1)));
  }
  chain_.plays = {plays_.data(), static_cast<std::uint32_t>(plays_.size())};
}

/// Only variables that some term uses are drawn; which random number a variable gets hangs on its index
/// alone.
void DrawProgram::fours(const Chain& chain) {
  for (std::size_t first = 0; first < chain.variables.size(); first += 4) {
    DrawnFour four{.first = static_cast<std::uint32_t>(first)};
    bool any = false;
    for (std::size_t i = 0; i < 4 && first + i < chain.variables.size(); ++i) {
      four.normal[i] = chain.variables[first + i].spread == Spread::normal;
      four.used[i] = used_[first + i];
      any = any || four.used[i];
    }
    if (any) fours_.push_back(four);
  }
  chain_.fours = {fours_.data(), static_cast<std::uint32_t>(fours_.size())};
}

}  // namespace haftwright::alignment
