#include "chain_parts.hpp"

namespace haftwright::geometry {

void append_stretch(std::vector<Node>& chain, const Outline& outline, Place from, Place to, Vec2 shift) {
  const std::vector<Edge>& edges = outline.edges();
  const auto append_part = [&](std::size_t i, double t0, double t1) {
    if (t1 > t0) chain.push_back({edges[i].point(t0) + shift, part_bulge(edges[i], t0, t1)});
  };
  if (from.edge == to.edge && from.t <= to.t) {
    append_part(from.edge, from.t, to.t);
  } else {
    append_part(from.edge, from.t, 1);
    for (std::size_t i = (from.edge + 1) % edges.size(); i != to.edge; i = (i + 1) % edges.size()) {
      append_part(i, 0, 1);
    }
    append_part(to.edge, 0, to.t);
  }
  chain.push_back({edges[to.edge].point(to.t) + shift, 0});
}

void drop_short_edges(std::vector<Node>& chain, double shortest_mm) {
  std::vector<Node> kept;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    if (distance_mm(chain[i].at, chain[(i + 1) % chain.size()].at) >= shortest_mm) kept.push_back(chain[i]);
  }
  chain = std::move(kept);
}

}  // namespace haftwright::geometry
