// Which points lie near a place.
#pragma once

#include <bit>
#include <cmath>
#include <cstdint>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::intake {

class PointGrid {
 public:
  /// `near_mm`: how far what is called near may be, above 0.
  PointGrid(std::vector<Vec2> points, double near_mm)
      : points_(std::move(points)), near_mm_(near_mm), begins_(std::bit_ceil(points_.size() + 1) + 1, 0) {
    std::vector<std::uint32_t> buckets;
    for (const Vec2 p : points_) {
      buckets.push_back(bucket(cell(p)));
      ++begins_[buckets.back() + 1];
    }
    for (std::size_t i = 1; i < begins_.size(); ++i) begins_[i] += begins_[i - 1];
    order_.resize(points_.size());
    std::vector<std::uint32_t> next(begins_);
    for (std::uint32_t i = 0; i < buckets.size(); ++i) order_[next[buckets[i]]++] = i;
  }

  /// Calls `visit(index)` for every point near `p`, `p` itself too where it is one of them.
  template <class Visit>
  void near(Vec2 p, Visit&& visit) const {
    const Cell middle = cell(p);
    for (std::int64_t dx = -1; dx <= 1; ++dx)
      for (std::int64_t dy = -1; dy <= 1; ++dy) {
        const Cell wanted{middle.x + dx, middle.y + dy};
        const std::uint32_t in = bucket(wanted);
        for (std::uint32_t at = begins_[in]; at < begins_[in + 1]; ++at) {
          const Vec2 q = points_[order_[at]];
          // Another cell may share the bucket, and be looked at too.
          if (cell(q) == wanted && glm::distance(q, p) <= near_mm_) visit(std::size_t{order_[at]});
        }
      }
  }

 private:
  struct Cell {
    std::int64_t x = 0;
    std::int64_t y = 0;
    bool operator==(const Cell&) const = default;
  };
  Cell cell(Vec2 p) const {
    return {static_cast<std::int64_t>(std::floor(p.x / near_mm_)),
            static_cast<std::int64_t>(std::floor(p.y / near_mm_))};
  }
  std::uint32_t bucket(Cell at) const {
    const std::uint64_t mixed = static_cast<std::uint64_t>(at.x) * 0x9E3779B97F4A7C15u ^
                                static_cast<std::uint64_t>(at.y) * 0xC2B2AE3D27D4EB4Fu;
    return static_cast<std::uint32_t>((mixed ^ (mixed >> 32)) & (begins_.size() - 2));
  }

  std::vector<Vec2> points_;
  double near_mm_;
  std::vector<std::uint32_t> begins_;  ///< of each bucket in `order_`; a power of two of them, and the end
  std::vector<std::uint32_t> order_;
};

}  // namespace haftwright::intake
