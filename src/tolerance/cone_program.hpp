// Small second-order cone programs: the least value of a linear function where a few affine vectors are no
// longer than affine heights. Solved along the central path, with a bound that holds whatever the path's
// accuracy.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace haftwright::tolerance {

/// The variables: up to three of a pose, and after them, in a rising program, the rise.
constexpr std::size_t most_variables = 4;
using Variables = std::array<double, most_variables>;

struct Affine {
  double at_zero = 0;
  std::array<double, 3> slope{};  ///< by the pose's variables
};

/// |(first, second)| <= height, or height + rise.
struct Cone {
  Affine first;
  Affine second;
  double height = 0;
  bool rises = false;
};

struct ConeProgram {
  std::size_t pose_variables = 0;
  bool rising = false;           ///< the least rise is asked for; else the least of cost . pose
  std::array<double, 3> cost{};  ///< unused in a rising program
  std::vector<Cone> cones;
  double close_enough = 1e-11;  ///< stops when value - at_least is no more,
  double close_part = 0;        ///< or no more than this part of the value

  std::size_t variables() const { return pose_variables + (rising ? 1 : 0); }
};

struct ConeAnswer {
  Variables at{};             ///< strictly inside every cone
  double value = 0;           ///< of the cost there
  double at_least = 0;        ///< no point inside every cone costs less
  std::vector<double> force;  ///< a cone: how hard it holds the answer back; 0 for those that do not
};

/// `start` is strictly inside every cone, and the sets of points of no greater cost are bounded.
ConeAnswer least_cost(const ConeProgram& program, const Variables& start);

}  // namespace haftwright::tolerance
