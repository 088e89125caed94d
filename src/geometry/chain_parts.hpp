// Cutting chains into parts and putting parts together again.
#pragma once

#include <vector>

#include "edge_geometry.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

/// A place on an outline's boundary.
struct Place {
  std::size_t edge = 0;
  double t = 0;
};

/// Bulge of the part of `edge` between two parameters.
inline double part_bulge(const Edge& edge, double t0, double t1) {
  if (!edge.is_arc() || (t0 == 0 && t1 == 1)) return edge.bulge;
  return std::tan(edge.sweep * (t1 - t0) / 4);
}

/// Appends the nodes of the boundary from one place forward to another, all moved by `shift`; the last place
/// gets a node with a straight edge leaving it. Equal places give a single node.
void append_stretch(std::vector<Node>& chain, const Outline& outline, Place from, Place to,
                    Vec2 shift = {0, 0});

/// Drops edges shorter than `shortest_mm`.
void drop_short_edges(std::vector<Node>& chain, double shortest_mm);

}  // namespace haftwright::geometry
