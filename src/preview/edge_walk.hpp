// Stretches of an outline as polylines, and what a plane does at the edge of the handle.
#pragma once

#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright::preview {

/// A place on an outline.
struct EdgePlace {
  std::size_t edge = 0;
  double t = 0;
};
EdgePlace place_near(const Outline& outline, Vec2 p);
/// The rearmost place.
EdgePlace rearmost(const Outline& outline);

/// Points from one place on, counter-clockwise, to another, both included; no chord leaves its arc by more
/// than the deviation and none is longer than `most_mm`.
std::vector<EdgePlace> walk(const Outline& outline, EdgePlace from, EdgePlace to, double deviation_mm,
                            double most_mm);
/// The same stretch as lines and arcs; the last node is the end.
std::vector<Node> stretch_between(const Outline& outline, EdgePlace from, EdgePlace to);
Vec2 point_at(const Outline& outline, EdgePlace place);

/// x where a plane, at the height s, reaches the spine (else the belly) of a side's edge.
Vec2 edge_point(const SideLayout& side, const CutPlane& plane, double s, bool at_spine);

}  // namespace haftwright::preview
