// Newton's method on cost * sharpness - sum of log(height^2 - length^2), the sharpness raised step by step.
// The forces that the cones' barriers exert balance the cost; any balanced forces, whichever way they were
// found, prove a bound:
//   cost . q = sum of force . (side(q) - side(0)) >= -sum of (|force| height + force . side(0)).
#include "cone_program.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace haftwright {
namespace {

using Matrix = std::array<Variables, most_variables>;

/// A cone at one point: its height and sides there, and height^2 - length^2.
struct Place {
  double height = 0;
  double first = 0;
  double second = 0;
  double room = 0;
  bool inside() const { return height > 0 && room > 0; }
};

double value_of(const Affine& affine, const Variables& at, std::size_t count) {
  double value = affine.at_zero;
  for (std::size_t i = 0; i < count; ++i) value += affine.slope[i] * at[i];
  return value;
}

Place place_of(const ConeProgram& program, const Cone& cone, const Variables& at) {
  const std::size_t count = program.pose_variables;
  Place place{.height = cone.height + (cone.rises ? at[count] : 0.0),
              .first = value_of(cone.first, at, count),
              .second = value_of(cone.second, at, count)};
  const double length = std::sqrt(place.first * place.first + place.second * place.second);
  place.room = (place.height - length) * (place.height + length);
  return place;
}

/// Solves matrix x = right by Cholesky; false when the matrix is not positive.
bool solve(Matrix matrix, const Variables& right, std::size_t n, Variables& x) {
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k) matrix[j][j] -= matrix[j][k] * matrix[j][k];
    if (!(matrix[j][j] > 0)) return false;
    matrix[j][j] = std::sqrt(matrix[j][j]);
    for (std::size_t i = j + 1; i < n; ++i) {
      for (std::size_t k = 0; k < j; ++k) matrix[i][j] -= matrix[i][k] * matrix[j][k];
      matrix[i][j] /= matrix[j][j];
    }
  }
  x = right;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) x[i] -= matrix[i][k] * x[k];
    x[i] /= matrix[i][i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) x[i] -= matrix[k][i] * x[k];
    x[i] /= matrix[i][i];
  }
  return true;
}

class Path {
 public:
  Path(const ConeProgram& program, const Variables& start)
      : program_(program), n_(program.variables()), at_(start), places_(program.cones.size()) {
    if (program.rising)
      cost_[program.pose_variables] = 1;
    else
      std::copy_n(program.cost.begin(), program.pose_variables, cost_.begin());
    move_to(start);
  }

  ConeAnswer walk() {
    ConeAnswer answer{.at = at_, .value = cost(), .at_least = -std::numeric_limits<double>::infinity()};
    answer.force.resize(places_.size());
    derive();
    if (!first_sharpness()) return answer;
    double gap = std::numeric_limits<double>::infinity();
    for (int without_gain = 0; without_gain < 3 && centre(); sharpness_ *= 30) {
      answer.at = at_;
      answer.value = cost();
      bound(answer);
      const double new_gap = answer.value - answer.at_least;
      if (new_gap <= program_.close_enough) break;
      without_gain = new_gap < gap ? 0 : without_gain + 1;
      gap = std::min(gap, new_gap);
    }
    return answer;
  }

 private:
  double cost() const {
    double sum = 0;
    for (std::size_t i = 0; i < n_; ++i) sum += cost_[i] * at_[i];
    return sum;
  }

  void move_to(const Variables& at) {
    at_ = at;
    for (std::size_t i = 0; i < places_.size(); ++i) places_[i] = place_of(program_, program_.cones[i], at);
  }

  /// The barriers' slope and curvature where the path is.
  void derive() {
    slope_ = {};
    curvature_ = {};
    for (std::size_t c = 0; c < places_.size(); ++c) {
      const Cone& cone = program_.cones[c];
      const Place& place = places_[c];
      const double scale = 2 / place.room;
      Variables inward{};  // of log(room)
      for (std::size_t i = 0; i < program_.pose_variables; ++i)
        inward[i] = -scale * (place.first * cone.first.slope[i] + place.second * cone.second.slope[i]);
      if (cone.rises) inward[program_.pose_variables] = scale * place.height;
      for (std::size_t i = 0; i < n_; ++i) {
        slope_[i] -= inward[i];
        for (std::size_t j = 0; j <= i; ++j) curvature_[i][j] += inward[i] * inward[j];
      }
      for (std::size_t i = 0; i < program_.pose_variables; ++i)
        for (std::size_t j = 0; j <= i; ++j)
          curvature_[i][j] += scale * (cone.first.slope[i] * cone.first.slope[j] +
                                       cone.second.slope[i] * cone.second.slope[j]);
      if (cone.rises) curvature_[program_.pose_variables][program_.pose_variables] -= scale;
    }
  }

  /// So that the cost and the barriers pull about equally at the start.
  bool first_sharpness() {
    Variables step{};
    if (!solve(curvature_, cost_, n_, step)) return false;
    double length = 0;
    for (std::size_t i = 0; i < n_; ++i) length += cost_[i] * step[i];
    sharpness_ = 1 / std::sqrt(length);
    return std::isfinite(sharpness_);
  }

  /// Newton's step and its length in the curvature's own measure.
  bool newton(double& length) {
    Variables down{};
    for (std::size_t i = 0; i < n_; ++i) down[i] = -sharpness_ * cost_[i] - slope_[i];
    if (!solve(curvature_, down, n_, step_)) return false;
    double square = 0;
    for (std::size_t i = 0; i < n_; ++i) square += down[i] * step_[i];
    length = std::sqrt(std::max(square, 0.0));
    return std::isfinite(length);
  }

  /// False when rounding leaves no way on.
  bool centre() {
    for (int steps = 0; steps < 60; ++steps) {
      double length = 0;
      derive();
      if (!newton(length)) return false;
      if (length < 0.3) return true;
      if (!advance(length)) return false;
    }
    return false;
  }

  /// Moves along the step as far as pays; false when it is too short to move.
  bool advance(double length) {
    const Variables from = at_;
    const std::vector<Place> before = places_;
    const double cost_before = cost();
    for (double part = 1; part > 1e-6; part /= 2) {
      Variables to = from;
      for (std::size_t i = 0; i < n_; ++i) to[i] += part * step_[i];
      move_to(to);
      double ratio = 1;
      bool inside = true;
      for (std::size_t i = 0; inside && i < places_.size(); ++i) {
        inside = places_[i].inside();
        ratio *= places_[i].room / before[i].room;
      }
      if (!inside) continue;
      if (sharpness_ * (cost() - cost_before) - std::log(ratio) <= -0.1 * part * length * length) return true;
    }
    move_to(from);
    return false;
  }

  /// Raises answer.at_least by the forces the barriers exert here, put right by Newton's step so that they
  /// balance.
  void bound(ConeAnswer& answer) const {
    std::vector<std::array<double, 2>> forces(places_.size());
    double rising = 0;
    double free_height = std::numeric_limits<double>::infinity();
    double sum = 0;
    for (std::size_t c = 0; c < places_.size(); ++c) {
      const Cone& cone = program_.cones[c];
      const Place& place = places_[c];
      const double scale = 2 / place.room;
      double first = 0;
      double second = 0;
      for (std::size_t i = 0; i < program_.pose_variables; ++i) {
        first += cone.first.slope[i] * step_[i];
        second += cone.second.slope[i] * step_[i];
      }
      const double rise = cone.rises ? step_[program_.pose_variables] : 0.0;
      const double inward = scale * (place.height * rise - place.first * first - place.second * second);
      forces[c] = {-scale * (place.first * (1 - inward) + first) / sharpness_,
                   -scale * (place.second * (1 - inward) + second) / sharpness_};
      const double size = std::hypot(forces[c][0], forces[c][1]);
      if (cone.rises) rising += size, free_height = std::min(free_height, cone.height);
      sum -= size * cone.height + forces[c][0] * cone.first.at_zero + forces[c][1] * cone.second.at_zero;
    }
    // In a rising program the heights' forces sum to one; a force on a height alone may make up the rest.
    const double shrink = rising > 1 ? 1 / rising : 1.0;
    if (program_.rising && rising < 1) sum -= (1 - rising) * free_height;
    sum *= shrink;
    if (!(sum > answer.at_least)) return;
    answer.at_least = sum;
    for (std::size_t c = 0; c < forces.size(); ++c)
      answer.force[c] = shrink * std::hypot(forces[c][0], forces[c][1]);
  }

  const ConeProgram& program_;
  std::size_t n_;
  Variables at_;
  std::vector<Place> places_;
  Variables cost_{};
  Variables slope_{};
  Matrix curvature_{};
  Variables step_{};
  double sharpness_ = 1;
};

}  // namespace

ConeAnswer least_cost(const ConeProgram& program, const Variables& start) {
  return Path(program, start).walk();
}

}  // namespace haftwright
