#include <cmath>

#include "edge_geometry.hpp"
#include "haftwright/geometry/outline.hpp"
#include "tolerances.hpp"

namespace haftwright {

namespace {

std::optional<OutlineFault> find_node_fault(const std::vector<Node>& chain) {
  const std::size_t n = chain.size();
  bool any_arc = false;
  for (std::size_t i = 0; i < n; ++i) {
    const Node& node = chain[i];
    if (!std::isfinite(node.at.x) || !std::isfinite(node.at.y) || !std::isfinite(node.bulge)) {
      return OutlineFault{i, "is not a finite number"};
    }
    if (std::abs(node.bulge) > kLargestBulge) return OutlineFault{i, "has a bulge beyond 16"};
    any_arc = any_arc || node.bulge != 0;
  }
  if (n < 2 || (n < 3 && !any_arc)) return OutlineFault{0, "has too few corners to enclose anything"};
  for (std::size_t i = 0; i < n; ++i) {
    if (distance_mm(chain[i].at, chain[(i + 1) % n].at) < kLeastEdge_mm) {
      return OutlineFault{i, "lies on the next node: the edge between them has no length"};
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<OutlineFault> find_fault(const std::vector<Node>& chain) {
  if (auto fault = find_node_fault(chain)) return fault;
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    edges.emplace_back(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
  }
  if (std::abs(signed_area_mm2(edges, chain.front().at)) < kLeastArea_mm2) {
    return OutlineFault{0, "is part of a chain that encloses no area"};
  }
  return std::nullopt;
}

}  // namespace haftwright
