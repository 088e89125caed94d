// Which points lie near a place.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::intake {

class PointGrid {
 public:
  /// `near_mm`: how far what is called near may be, above 0.
  PointGrid(std::vector<Vec2> points, double near_mm) : points_(std::move(points)), near_mm_(near_mm) {
    for (std::size_t i = 0; i < points_.size(); ++i) cells_.push_back({key(cell(points_[i])), i});
    std::sort(cells_.begin(), cells_.end());
  }

  /// Calls `visit(index)` for every point near `p`, `p` itself too where it is one of them.
  template <class Visit>
  void near(Vec2 p, Visit&& visit) const {
    const Cell middle = cell(p);
    for (std::int64_t dx = -1; dx <= 1; ++dx)
      for (std::int64_t dy = -1; dy <= 1; ++dy) {
        const std::uint64_t wanted = key({middle.x + dx, middle.y + dy});
        for (auto at = std::lower_bound(cells_.begin(), cells_.end(), std::pair{wanted, std::size_t{0}});
             at != cells_.end() && at->first == wanted; ++at)
          if (glm::distance(points_[at->second], p) <= near_mm_) visit(at->second);
      }
  }

 private:
  struct Cell {
    std::int64_t x = 0;
    std::int64_t y = 0;
  };
  Cell cell(Vec2 p) const {
    return {static_cast<std::int64_t>(std::floor(p.x / near_mm_)),
            static_cast<std::int64_t>(std::floor(p.y / near_mm_))};
  }
  /// Two cells may have one key: distances are looked at anyway.
  static std::uint64_t key(Cell at) {
    return static_cast<std::uint64_t>(at.x) * 0x9E3779B97F4A7C15u ^
           static_cast<std::uint64_t>(at.y) * 0xC2B2AE3D27D4EB4Fu;
  }

  std::vector<Vec2> points_;
  double near_mm_;
  std::vector<std::pair<std::uint64_t, std::size_t>> cells_;
};

}  // namespace haftwright::intake
