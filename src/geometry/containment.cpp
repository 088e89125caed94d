#include <algorithm>
#include <cmath>

#include "edge_contacts.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

double Region::area_mm2() const {
  double area = outer.area_mm2();
  for (const Outline& hole : holes) area -= hole.area_mm2();
  return area;
}

bool contains(const Outline& outer, const Outline& inner) {
  std::vector<Bounds> outer_boxes;
  for (const Edge& edge : outer.edges()) outer_boxes.push_back(bounds_of(edge));
  std::vector<double> cuts;
  for (const Edge& edge : inner.edges()) {
    // Between two places where it meets the outer boundary an edge stays on one side.
    cuts = {0, 1};
    const Bounds box = bounds_of(edge);
    for (std::size_t j = 0; j < outer_boxes.size(); ++j) {
      if (box_distance_squared(box, outer_boxes[j]) > kSamePlace_mm * kSamePlace_mm) continue;
      visit_meetings(edge, outer.edges()[j], kSamePlace_mm,
                     [&](Vec2 p) { cuts.push_back(parameter_of(edge, foot_on(edge, p).point)); });
    }
    std::ranges::sort(cuts);
    for (std::size_t i = 1; i < cuts.size(); ++i) {
      if (outer.depth_mm(edge.point((cuts[i - 1] + cuts[i]) / 2)) < -kSamePlace_mm) return false;
    }
  }
  return true;
}

double boundary_distance_mm(const Outline& a, const Outline& b) {
  std::vector<Bounds> boxes;
  for (const Edge& edge : b.edges()) boxes.push_back(bounds_of(edge));
  double least = b.nearest(a.nodes().front().at).distance_mm;
  for (const Edge& edge : a.edges()) {
    const Bounds box = bounds_of(edge);
    for (std::size_t j = 0; j < boxes.size(); ++j) {
      if (box_distance_squared(box, boxes[j]) >= least * least) continue;
      least = std::min(least, edge_distance_mm(edge, b.edges()[j]));
    }
  }
  return least;
}

}  // namespace haftwright
