#include "edge_geometry.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright {

using namespace geometry;

Outline with_nodes_merged(const Outline& outline, double apart_mm) {
  std::vector<Node> kept;
  for (const Node& node : outline.nodes()) {
    if (!kept.empty() && distance_mm(kept.back().at, node.at) < apart_mm)
      kept.back().bulge = node.bulge;
    else
      kept.push_back(node);
  }
  while (kept.size() > 1 && distance_mm(kept.back().at, kept.front().at) < apart_mm) kept.pop_back();
  if (kept.size() == outline.nodes().size() || find_fault(kept)) return outline;
  return Outline(std::move(kept));
}

}  // namespace haftwright
