// The solid that a side's pieces are cut from: everything over the edge outline from s = 0 up to the finished
// surface, before the front face is cut.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright::layout {

struct ScaleBody {
  const HeightField& surface;
  double liner_total_mm = 0;
  CutPlane front;     ///< the side's front face
  double top_mm = 0;  ///< no point of the surface lies higher above s = 0

  const Outline& edge() const { return surface.edge(); }
  /// s of the finished surface; negative outside the edge.
  double s_at(Vec2 p) const { return surface.height_mm(p) - liner_total_mm; }
};

inline double area_mm2(const std::vector<Outline>& outlines) {
  double area = 0;
  for (const Outline& outline : outlines) area += outline.area_mm2();
  return area;
}

/// The same plane stood upright on its line at s = 0.
inline CutPlane upright(CutPlane plane) {
  plane.tan_rake = 0;
  return plane;
}

/// Half-planes of the plan at height s: ahead of and behind the cut.
inline HalfPlane ahead_of(const CutPlane& plane, double s) {
  return {{1, -plane.tan_slant}, plane.x_at(0, s)};
}
inline HalfPlane behind(const CutPlane& plane, double s) {
  return {{-1, plane.tan_slant}, -plane.x_at(0, s)};
}

/// Where the plane's line at height s enters and leaves the edge, in order of y: an even number of places.
/// What lies wholly ahead of the side's front face (the blade's end of the tang) is left out.
std::vector<Crossing> wall_places(const ScaleBody& body, const CutPlane& plane, double s);

/// Parameters t, 0 to 1, at which an edge moved in by `depth_mm` crosses the plane's line at height s.
struct EdgeCrossings {
  std::array<double, 2> t{};
  std::size_t count = 0;
  const double* begin() const { return t.data(); }
  const double* end() const { return t.data() + count; }
};
EdgeCrossings edge_crossings(const Edge& edge, const CutPlane& plane, double s, double depth_mm);

/// Unit normal into the outline at a place on one of its edges.
Vec2 inward_normal(const Edge& edge, Vec2 on_edge);

/// How far in y the round-over reaches along a cut from the wall place `wall`, at most `half_width_mm`.
double inset_y_mm(const ScaleBody& body, double tan_slant, const Crossing& wall, double half_width_mm);

}  // namespace haftwright::layout
