#include "border_grid.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "edge_geometry.hpp"

namespace haftwright::geometry {
namespace {

/// Cells over the outline's box, about. More cells cost time to fill, fewer list more edges each.
constexpr double kCells = 2000;
/// A point this far over the outline's box still falls into a cell, so that rounding cannot lose the border.
constexpr double kMargin_mm = 1e-6;

}  // namespace

struct BorderGrid::Entry {
  std::uint32_t cell;
  std::uint32_t edge;
};

BorderGrid::BorderGrid(const Outline& outline, double reach_mm) {
  const Vec2 size = outline.bounds().size() + 2 * kMargin_mm;
  low_ = outline.bounds().low - kMargin_mm;
  // The second term bounds the count for shapes as thin as a wire.
  cell_mm_ = std::max(std::sqrt(size.x * size.y / kCells), (size.x + size.y) / kCells);
  half_diagonal_mm_ = cell_mm_ * std::sqrt(0.5);
  columns_ = static_cast<std::size_t>(size.x / cell_mm_) + 1;
  rows_ = static_cast<std::size_t>(size.y / cell_mm_) + 1;

  std::vector<double> nearest_squared(columns_ * rows_, std::numeric_limits<double>::infinity());
  const std::vector<Entry> entries = entries_near(outline, reach_mm, nearest_squared);
  starts_.assign(columns_ * rows_ + 1, 0);
  for (const Entry& entry : entries) ++starts_[entry.cell + 1];
  for (std::size_t i = 0; i + 1 < starts_.size(); ++i) starts_[i + 1] += starts_[i];
  listed_.resize(entries.size());
  std::vector<std::uint32_t> next(starts_.begin(), starts_.end() - 1);
  for (const Entry& entry : entries) listed_[next[entry.cell]++] = entry.edge;
  classify(outline, nearest_squared, reach_mm);
}

/// Every edge with every cell it may matter to; the squared distance from each cell's centre to the nearest.
std::vector<BorderGrid::Entry> BorderGrid::entries_near(const Outline& outline, double reach_mm,
                                                        std::vector<double>& nearest_squared) const {
  // A point of a cell that the outline crosses is at most twice the half diagonal from the outline, and the
  // part nearest to it thrice from the cell's centre.
  const double listed_mm = std::max(reach_mm + half_diagonal_mm_, 3 * half_diagonal_mm_);
  const auto cell_of = [&](double at, double origin, std::size_t count) {
    return std::min(count - 1, static_cast<std::size_t>(std::max(0.0, (at - origin) / cell_mm_)));
  };
  std::vector<Entry> entries;
  entries.reserve(4 * nearest_squared.size());
  const std::vector<Edge>& edges = outline.edges();
  for (std::size_t e = 0; e < edges.size(); ++e) {
    const Bounds box = bounds_of(edges[e]);
    const std::size_t left = cell_of(box.low.x - listed_mm, low_.x, columns_);
    const std::size_t right = cell_of(box.high.x + listed_mm, low_.x, columns_);
    const std::size_t top = cell_of(box.high.y + listed_mm, low_.y, rows_);
    for (std::size_t row = cell_of(box.low.y - listed_mm, low_.y, rows_); row <= top; ++row)
      for (std::size_t column = left; column <= right; ++column) {
        const double squared = foot_on(edges[e], centre(column, row)).distance_squared;
        if (squared > listed_mm * listed_mm) continue;
        const std::size_t cell = index(column, row);
        nearest_squared[cell] = std::min(nearest_squared[cell], squared);
        entries.push_back({static_cast<std::uint32_t>(cell), static_cast<std::uint32_t>(e)});
      }
  }
  return entries;
}

Vec2 BorderGrid::centre(std::size_t column, std::size_t row) const {
  return low_ + cell_mm_ * Vec2{static_cast<double>(column) + 0.5, static_cast<double>(row) + 0.5};
}

void BorderGrid::classify(const Outline& outline, const std::vector<double>& distance_squared,
                          double reach_mm) {
  const double crossing = half_diagonal_mm_ * half_diagonal_mm_ * (1 + 1e-9);
  const double deep = (reach_mm + half_diagonal_mm_) * (reach_mm + half_diagonal_mm_);
  kinds_.assign(columns_ * rows_, Kind::outside);
  for (std::size_t row = 0; row < rows_; ++row) {
    // Neighbours that the outline does not cross lie on the same side of it: ask once for a run of them.
    bool known = false;
    bool inside = false;
    for (std::size_t column = 0; column < columns_; ++column) {
      const std::size_t cell = index(column, row);
      if (distance_squared[cell] <= crossing) {
        kinds_[cell] = Kind::crossing;
        known = false;
        continue;
      }
      if (!known) inside = outline.contains(centre(column, row));
      known = true;
      if (inside) kinds_[cell] = distance_squared[cell] > deep ? Kind::deep : Kind::inside;
    }
  }
}

BorderGrid::Cell BorderGrid::at(Vec2 p) const {
  const Vec2 place = (p - low_) / cell_mm_;
  if (!(place.x >= 0 && place.y >= 0 && place.x < static_cast<double>(columns_) &&
        place.y < static_cast<double>(rows_)))
    return {};
  const std::size_t cell = index(static_cast<std::size_t>(place.x), static_cast<std::size_t>(place.y));
  return {kinds_[cell], std::span(listed_).subspan(starts_[cell], starts_[cell + 1] - starts_[cell])};
}

}  // namespace haftwright::geometry
