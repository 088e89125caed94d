// Which edges matter where: a grid of square cells over an outline, so that a query looks at a few edges and
// at none in the middle of the shape.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

class BorderGrid {
 public:
  enum class Kind : std::uint8_t {
    outside,   ///< no part inside the outline
    deep,      ///< wholly inside, out of reach of every edge
    inside,    ///< wholly inside, within reach of its edges
    crossing,  ///< the outline may pass through; its edges tell the side
  };
  struct Cell {
    Kind kind = Kind::outside;
    std::span<const std::uint32_t> edges;
  };

  /// A cell lists every edge that may lie within `reach_mm` of one of its points.
  BorderGrid(const Outline& outline, double reach_mm);

  Cell at(Vec2 p) const;

 private:
  struct Entry;
  std::vector<Entry> entries_near(const Outline& outline, double reach_mm,
                                  std::vector<double>& nearest_squared) const;
  std::size_t index(std::size_t column, std::size_t row) const { return row * columns_ + column; }
  Vec2 centre(std::size_t column, std::size_t row) const;
  void classify(const Outline& outline, const std::vector<double>& distance_squared, double reach_mm);

  Vec2 low_{0, 0};
  double cell_mm_ = 1;
  double half_diagonal_mm_ = 1;
  std::size_t columns_ = 1;
  std::size_t rows_ = 1;
  std::vector<Kind> kinds_;
  std::vector<std::uint32_t> starts_;  // one more than cells
  std::vector<std::uint32_t> listed_;
};

}  // namespace haftwright::geometry
