// Plane to plane maps that keep straight lines straight.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::pictures {

/// Rows of a 3 x 3 matrix.
struct Homography {
  std::array<double, 9> m{1, 0, 0, 0, 1, 0, 0, 0, 1};

  /// The third coordinate, which vanishes at the horizon.
  double depth(Vec2 p) const { return m[6] * p.x + m[7] * p.y + m[8]; }
  Vec2 operator()(Vec2 p) const {
    return Vec2{m[0] * p.x + m[1] * p.y + m[2], m[3] * p.x + m[4] * p.y + m[5]} / depth(p);
  }
  /// Derivatives at p: d(out)/dx and d(out)/dy.
  std::array<Vec2, 2> derivatives(Vec2 p) const;
  double determinant() const;
  /// Of the same sign of depth in front. The determinant must not be 0.
  Homography inverse() const;
};
/// First `second`, then `first`.
Homography operator*(const Homography& first, const Homography& second);

struct Pair {
  Vec2 from{0, 0};
  Vec2 to{0, 0};
};

/// A map through pairs of points, and what moves it.
struct HomographyFit {
  Homography map;  ///< with depth over 0 at the pairs' middle
  /// Scaling and shift that make the pairs' middle 0 and their mean distance the square root of 2.
  Homography from_scaled;
  Homography to_scaled;
  /// The eight free values of the scaled map.
  Homography scaled;
  /// How those follow a shift of each `to`, in scaled units: 8 rows of 2 a pair.
  std::vector<std::array<double, 8>> follow;

  /// How far the result at `from` moves at most when each `to` moves by at most `shift`.
  double largest_shift(Vec2 from, double shift) const;
};

/// Least squares of the distances at `to`, from four pairs on: scaled direct linear transformation (Hartley &
/// Zisserman, Multiple View Geometry, 2nd ed., 4.1 and 4.4.4) as the start, then Gauss-Newton. Nothing where
/// the pairs do not determine a map.
std::optional<HomographyFit> fit_homography(std::span<const Pair> pairs);

}  // namespace haftwright::pictures
