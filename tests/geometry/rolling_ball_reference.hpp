// The rolling ball by search, for comparison: what balls of radius r that fit under the crown and inside the
// wall can cover. It knows nothing of envelopes, contacts or derivatives.
#pragma once

#include <algorithm>
#include <cmath>
#include <glm/common.hpp>
#include <limits>
#include <vector>

#include "haftwright/geometry/height_field.hpp"

namespace haftwright::test {

class BallSearch {
 public:
  /// `path`: where the centre of a ball that touches the wall may be, in plan, drawn by hand for each case;
  /// the material lies on its left, at least 3 r deep.
  BallSearch(const SurfaceShape& shape, std::vector<Edge> path)
      : shape_(shape), thickness_(shape.thickness_mm), path_(std::move(path)) {}

  const std::vector<Edge>& path() const { return path_; }

  /// Height over the base of the highest ball over p.
  double height_mm(Vec2 p) const {
    double highest = -std::numeric_limits<double>::infinity();
    for (const Edge& piece : path_) highest = std::max(highest, highest_along(piece, p));
    return highest - shape_.base_slope * p.x;
  }

 private:
  double surface(Vec2 p) const {
    const double z = shape_.base_slope * p.x + thickness_.value(p.x);
    if (!shape_.crown_radius_mm) return z;
    const double radius = *shape_.crown_radius_mm;
    const double v = p.y - shape_.crest_y_mm;
    return z - (radius - std::sqrt(std::max(0.0, radius * radius - v * v)));
  }

  /// Looks for the greatest value of f over a box by ever finer grids round the best place so far.
  template <class F>
  static double greatest(F&& f, Vec2 centre, Vec2 half) {
    const Vec2 low = centre - half;
    const Vec2 high = centre + half;
    Vec2 best = centre;
    double value = -std::numeric_limits<double>::infinity();
    for (int level = 0; level < 9; ++level) {
      const int n = level == 0 ? 8 : 3;
      const Vec2 middle = best;
      for (int i = -n; i <= n; ++i)
        for (int j = -n; j <= n; ++j) {
          const Vec2 at = glm::clamp(middle + half * Vec2{i, j} / static_cast<double>(n), low, high);
          const double here = f(at);
          if (here > value) {
            value = here;
            best = at;
          }
        }
      half *= level == 0 ? 0.25 : 0.45;
    }
    return value;
  }

  /// Centre height of the highest ball at plan place c that stays under the surface.
  double centre_height(Vec2 c) const {
    const double r = shape_.round_over_mm;
    return -greatest(
        [&](Vec2 u) {
          const double square = r * r - glm::dot(u, u);
          return square < 0 ? -std::numeric_limits<double>::infinity() : std::sqrt(square) - surface(c + u);
        },
        {0, 0}, {r, r});
  }

  double highest_along(const Edge& piece, Vec2 p) const {
    const double r = shape_.round_over_mm;
    // The ball's place: along the path, and off it to the inside.
    double nearest = std::numeric_limits<double>::infinity();
    double t_nearest = 0;
    for (int i = 0; i <= 400; ++i) {
      const double distance = glm::length(p - piece.point(i / 400.0));
      if (distance < nearest) {
        nearest = distance;
        t_nearest = i / 400.0;
      }
    }
    if (nearest > 2 * r) return -std::numeric_limits<double>::infinity();
    // How far a ball over p can stand from that: wide for a point inside the path, little near the wall.
    const bool inside = glm::dot(p - piece.point(t_nearest), turned_left(piece.direction(t_nearest))) > 0;
    const double room = inside ? r : std::sqrt(std::max(r * r - nearest * nearest, 0.0));
    const double deep = inside ? nearest + r : room;
    const double span = 1.2 * room / piece.length() + 2.0 / 400;
    const double t_low = std::max(0.0, t_nearest - span);
    const double t_high = std::min(1.0, t_nearest + span);
    return greatest(
        [&](Vec2 at) {
          const Vec2 c = piece.point(at.x) + turned_left(piece.direction(at.x)) * at.y;
          const double square = r * r - glm::dot(p - c, p - c);
          if (square < 0) return -std::numeric_limits<double>::infinity();
          return centre_height(c) + std::sqrt(square);
        },
        {(t_low + t_high) / 2, deep / 2}, {(t_high - t_low) / 2, deep / 2});
  }

  SurfaceShape shape_;
  MonotoneCubic thickness_;
  std::vector<Edge> path_;
};

}  // namespace haftwright::test
