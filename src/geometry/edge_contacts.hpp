// Two edges: where they meet, and how far apart they are.
#pragma once

#include <algorithm>
#include <array>
#include <numeric>
#include <span>
#include <vector>

#include "edge_geometry.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

/// Up to two places in which the lines or circles of two edges cross or touch; a near miss within
/// `tolerance_mm` counts as touching. Whether the places lie on the edges is not looked at. Lines or circles
/// that are one and the same have none.
class CarrierMeetings {
 public:
  CarrierMeetings(const Edge& a, const Edge& b, double tolerance_mm);
  const Vec2* begin() const { return points_.data(); }
  const Vec2* end() const { return points_.data() + count_; }

 private:
  void add(Vec2 p) { points_[count_++] = p; }
  void add_lines(const Edge& a, const Edge& b);
  /// The circle of `arc` with the line through `arc.from + base` (base square to it) along `unit`.
  void add_line_and_circle(Vec2 base, Vec2 unit, const Edge& arc, double tolerance_mm);
  void add_line_and_arc(const Edge& line, const Edge& arc, double tolerance_mm);
  void add_arcs(const Edge& a, const Edge& b, double tolerance_mm);

  std::array<Vec2, 2> points_;
  std::size_t count_ = 0;
};

/// Calls visit(point) for every place where the edges meet within `tolerance_mm`: crossings, tangencies, ends
/// of one on the other (so both ends of a stretch they share). Places may come up more than once.
template <class Visit>
void visit_meetings(const Edge& a, const Edge& b, double tolerance_mm, Visit visit) {
  const double limit = tolerance_mm * tolerance_mm;
  const auto is_on = [limit](const Edge& edge, Vec2 p) { return foot_on(edge, p).distance_squared <= limit; };
  for (const Vec2 p : {a.from, a.to}) {
    if (is_on(b, p)) visit(p);
  }
  for (const Vec2 p : {b.from, b.to}) {
    if (is_on(a, p)) visit(p);
  }
  for (const Vec2 p : CarrierMeetings(a, b, tolerance_mm)) {
    if (is_on(a, p) && is_on(b, p)) visit(p);
  }
}

/// Least distance between two edges; 0 when they cross.
double edge_distance_mm(const Edge& a, const Edge& b);

inline double box_distance_squared(const Bounds& a, const Bounds& b) {
  const double dx = std::max({a.low.x - b.high.x, 0.0, b.low.x - a.high.x});
  const double dy = std::max({a.low.y - b.high.y, 0.0, b.low.y - a.high.y});
  return dx * dx + dy * dy;
}

/// Calls visit(i, j) for every pair of boxes that come within `margin_mm` of each other in x and in y, each
/// pair once, until visit returns false. A sweep along x.
template <class Visit>
void visit_near_pairs(std::span<const Bounds> boxes, double margin_mm, Visit visit) {
  std::vector<std::size_t> order(boxes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return boxes[i].low.x; });
  std::vector<std::size_t> open;
  for (const std::size_t i : order) {
    const Bounds& box = boxes[i];
    std::erase_if(open, [&](std::size_t j) { return boxes[j].high.x + margin_mm < box.low.x; });
    for (const std::size_t j : open) {
      if (boxes[j].high.y + margin_mm < box.low.y || box.high.y + margin_mm < boxes[j].low.y) continue;
      if (!visit(std::min(i, j), std::max(i, j))) return;
    }
    open.push_back(i);
  }
}

}  // namespace haftwright::geometry
