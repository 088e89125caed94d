// Newton's method on sharpness * cost - sum of log(height^2 - length^2), the sharpness raised stage by stage.
// The forces that the cones' barriers exert balance the cost; any balanced forces, whichever way they were
// found, prove a bound:
//   cost(q) - cost(o) = sum of force . (side(q) - side(o)) >= -sum of (|force| height + force . side(o)).
//
// Towards the end the barriers are many millions of times steeper one way than another. Each stage therefore
// begins with new variables, in which they are equally steep all ways at its beginning and zero is where it
// begins.
#include "cone_program.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace haftwright::tolerance {
namespace {

using Matrix = std::array<Variables, most_variables>;

/// Of a cone: its height and sides at zero, and their slopes by the stage's variables.
struct Rows {
  std::array<double, 3> at_zero{};
  std::array<Variables, 3> slope{};
};

/// A cone at one point: its height and sides there, and height^2 - length^2.
struct Place {
  double height = 0;
  double first = 0;
  double second = 0;
  double room = 0;
  bool inside() const { return height > 0 && room > 0; }
};

Rows rows_of(const Cone& cone, std::size_t pose_variables) {
  Rows rows{.at_zero = {cone.height, cone.first.at_zero, cone.second.at_zero}};
  if (cone.rises) rows.slope[0][pose_variables] = 1;
  for (std::size_t i = 0; i < pose_variables; ++i) {
    rows.slope[1][i] = cone.first.slope[i];
    rows.slope[2][i] = cone.second.slope[i];
  }
  return rows;
}

Place place_of(const Rows& rows, const Variables& at, std::size_t n) {
  std::array<double, 3> value = rows.at_zero;
  for (std::size_t row = 0; row < 3; ++row)
    for (std::size_t i = 0; i < n; ++i) value[row] += rows.slope[row][i] * at[i];
  const double length = std::sqrt(value[1] * value[1] + value[2] * value[2]);
  return {value[0], value[1], value[2], (value[0] - length) * (value[0] + length)};
}

/// The lower triangle L of matrix = L L'; false when the matrix is not positive.
bool part_cholesky(Matrix& matrix, std::size_t n) {
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k) matrix[j][j] -= matrix[j][k] * matrix[j][k];
    if (!(matrix[j][j] > 0)) return false;
    matrix[j][j] = std::sqrt(matrix[j][j]);
    for (std::size_t i = j + 1; i < n; ++i) {
      for (std::size_t k = 0; k < j; ++k) matrix[i][j] -= matrix[i][k] * matrix[j][k];
      matrix[i][j] /= matrix[j][j];
    }
  }
  return true;
}

/// x with L x = right.
Variables solve_lower(const Matrix& lower, Variables right, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) right[i] -= lower[i][k] * right[k];
    right[i] /= lower[i][i];
  }
  return right;
}

/// x with L' x = right.
Variables solve_upper(const Matrix& lower, Variables right, std::size_t n) {
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) right[i] -= lower[k][i] * right[k];
    right[i] /= lower[i][i];
  }
  return right;
}

double dot(const Variables& a, const Variables& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
}

class Path {
 public:
  Path(const ConeProgram& program, const Variables& start)
      : program_(program), n_(program.variables()), from_(start), rows_(program.cones.size()) {
    for (std::size_t i = 0; i < rows_.size(); ++i)
      rows_[i] = rows_of(program.cones[i], program.pose_variables);
    if (program.rising)
      cost_[program.pose_variables] = 1;
    else
      std::copy_n(program.cost.begin(), program.pose_variables, cost_.begin());
    cost_from_ = dot(cost_, start);
    for (std::size_t i = 0; i < n_; ++i) basis_[i][i] = 1;
    begin_at(start);
  }

  ConeAnswer walk() {
    ConeAnswer answer{.at = from_, .value = cost_from_, .at_least = -std::numeric_limits<double>::infinity()};
    answer.force.resize(rows_.size());
    // Where the start is already far steeper one way, one change of variables is not enough.
    for (int i = 0; i < 4; ++i) {
      derive();
      if (new_variables() && i > 0) break;
    }
    sharpness_ = 1 / std::sqrt(dot(cost_, cost_));  // the cost and the barriers pull about equally
    if (!std::isfinite(sharpness_)) return answer;
    double gap = std::numeric_limits<double>::infinity();
    double hurry = 30;
    for (int without_gain = 0; without_gain < 3; sharpness_ *= hurry) {
      const std::optional<int> steps = centre();
      if (!steps) break;
      hurry = *steps > 10 ? 5 : 30;
      bound(answer);
      answer.at = from_;
      answer.value = cost_from_;
      const double new_gap = answer.value - answer.at_least;
      if (new_gap <= std::max(program_.close_enough, program_.close_part * std::abs(answer.value))) break;
      new_variables();
      without_gain = new_gap < gap ? 0 : without_gain + 1;
      gap = std::min(gap, new_gap);
    }
    return answer;
  }

 private:
  /// Makes `at`, in the stage's variables, their zero.
  void begin_at(const Variables& at) {
    places_.resize(rows_.size());
    for (std::size_t c = 0; c < rows_.size(); ++c) {
      places_[c] = place_of(rows_[c], at, n_);
      rows_[c].at_zero = {places_[c].height, places_[c].first, places_[c].second};
    }
  }

  /// The barriers' slope and curvature at zero.
  void derive() {
    slope_ = {};
    curvature_ = {};
    for (std::size_t c = 0; c < rows_.size(); ++c) {
      const auto& [up, first, second] = rows_[c].slope;
      const Place& place = places_[c];
      const double scale = 2 / place.room;
      Variables inward{};  // slope of log(room)
      for (std::size_t i = 0; i < n_; ++i) {
        inward[i] = scale * (place.height * up[i] - place.first * first[i] - place.second * second[i]);
        slope_[i] -= inward[i];
        for (std::size_t j = 0; j <= i; ++j)
          curvature_[i][j] +=
              inward[i] * inward[j] + scale * (first[i] * first[j] + second[i] * second[j] - up[i] * up[j]);
      }
    }
  }

  /// Variables in which the curvature just derived is one all ways: old = new solved by L'. False when
  /// rounding had swallowed the flatter ways, so that the new variables are better but not yet good.
  bool new_variables() {
    Matrix lower = curvature_;
    const bool good = part_cholesky(lower, n_);
    if (!good) {
      lower = curvature_;
      for (std::size_t i = 0; i < n_; ++i) lower[i][i] *= 1 + 1e-13;
      if (!part_cholesky(lower, n_)) return false;
    }
    for (Rows& rows : rows_)
      for (Variables& slope : rows.slope) slope = solve_lower(lower, slope, n_);
    for (Variables& row : basis_) row = solve_lower(lower, row, n_);
    cost_ = solve_lower(lower, cost_, n_);
    return good;
  }

  /// Newton's step from zero and its length in the curvature's own measure.
  bool newton(double& length) {
    Variables down{};
    for (std::size_t i = 0; i < n_; ++i) down[i] = -sharpness_ * cost_[i] - slope_[i];
    Matrix lower = curvature_;
    if (!part_cholesky(lower, n_)) return false;
    const Variables half = solve_lower(lower, down, n_);
    length = std::sqrt(dot(half, half));
    step_ = solve_upper(lower, half, n_);
    return std::isfinite(length);
  }

  /// The number of steps it took; none when rounding leaves no way on.
  std::optional<int> centre() {
    for (int steps = 0; steps < 500; ++steps) {
      double length = 0;
      derive();
      if (!newton(length)) return std::nullopt;
      if (length < 0.3) return steps;
      if (!advance(length)) return std::nullopt;
    }
    return std::nullopt;
  }

  /// Moves along the step as far as pays; false when it is too short to move.
  bool advance(double length) {
    for (double part = 1; part > 1e-6; part /= 2) {
      Variables to{};
      for (std::size_t i = 0; i < n_; ++i) to[i] = part * step_[i];
      double ratio = 1;
      for (std::size_t c = 0; c < rows_.size() && ratio > 0; ++c) {
        const Place place = place_of(rows_[c], to, n_);
        ratio = place.inside() ? ratio * (place.room / places_[c].room) : 0.0;
      }
      if (!(ratio > 0)) continue;
      if (sharpness_ * dot(cost_, to) - std::log(ratio) > -0.1 * part * length * length) continue;
      cost_from_ += dot(cost_, to);
      for (std::size_t i = 0; i < n_; ++i) from_[i] += dot(basis_[i], to);
      begin_at(to);
      return true;
    }
    return false;
  }

  /// Raises answer.at_least by the forces the barriers exert at zero, put right by Newton's step so that they
  /// balance.
  void bound(ConeAnswer& answer) {
    forces_.resize(rows_.size());
    double rising = 0;
    double least_height = std::numeric_limits<double>::infinity();
    double sum = 0;
    for (std::size_t c = 0; c < rows_.size(); ++c) {
      const Cone& cone = program_.cones[c];
      const Place& place = places_[c];
      const double scale = 2 / place.room;
      const double up = dot(rows_[c].slope[0], step_);
      const double first = dot(rows_[c].slope[1], step_);
      const double second = dot(rows_[c].slope[2], step_);
      const double inward = scale * (place.height * up - place.first * first - place.second * second);
      const double force_first = -scale * (place.first * (1 - inward) + first) / sharpness_;
      const double force_second = -scale * (place.second * (1 - inward) + second) / sharpness_;
      forces_[c] = std::sqrt(force_first * force_first + force_second * force_second);
      if (cone.rises) rising += forces_[c], least_height = std::min(least_height, cone.height);
      sum -= forces_[c] * cone.height + force_first * place.first + force_second * place.second;
    }
    // In a rising program the forces of cones that rise sum to one: larger ones are shrunk, and what is
    // lacking is a force on a height alone.
    double shrink = 1;
    if (!program_.rising)
      sum += cost_from_;
    else if (rising > 1)
      shrink = 1 / rising;
    else
      sum -= (1 - rising) * least_height;
    if (!(shrink * sum > answer.at_least)) return;
    answer.at_least = shrink * sum;
    for (std::size_t c = 0; c < forces_.size(); ++c) answer.force[c] = shrink * forces_[c];
  }

  const ConeProgram& program_;
  std::size_t n_;
  Variables from_;        ///< the stage's zero, in the program's variables
  double cost_from_ = 0;  ///< there
  Matrix basis_{};        ///< the program's variables by the stage's
  std::vector<Rows> rows_;
  std::vector<Place> places_;  ///< at zero
  Variables cost_{};           ///< slope of the cost by the stage's variables
  Variables slope_{};
  Matrix curvature_{};
  Variables step_{};
  std::vector<double> forces_;
  double sharpness_ = 1;
};

}  // namespace

ConeAnswer least_cost(const ConeProgram& program, const Variables& start) {
  return Path(program, start).walk();
}

}  // namespace haftwright::tolerance
