// Outlines: closed chains of straight lines and circular arcs, and nothing else.
//
// Everything flat in Haftwright (tang, finished handle, piece faces, cutouts, drill guide plate) is an
// Outline. Lines and arcs keep area, moments, distance and offset exact and fast, and they reach STEP and DXF
// unchanged. An arc is written by the bulge of its chain node: tan(a quarter of the arc's included angle),
// positive when the arc turns counter-clockwise from this node to the next, 0 for a straight line, 1 for a
// half circle. All lengths are millimetres, all angles radians.
#pragma once

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright {

/// A corner of a chain and the shape of the edge that leaves it.
struct Node {
  Vec2 at{0, 0};
  double bulge = 0;
  bool operator==(const Node&) const = default;
};

/// One edge of an outline: a straight line, or an arc of less than a full circle.
struct Edge {
  Vec2 from{0, 0};
  Vec2 to{0, 0};
  double bulge = 0;
  Vec2 centre{0, 0};  ///< arcs only
  double radius = 0;  ///< arcs only; 0 for a line
  double sweep = 0;   ///< arcs only: signed included angle, positive counter-clockwise

  Edge() = default;
  Edge(Vec2 from_point, Vec2 to_point, double bulge_value);

  bool is_arc() const { return bulge != 0; }
  double length() const;
  /// Point at parameter t: 0 is `from`, 1 is `to`, even in arc length.
  Vec2 point(double t) const;
  /// Unit direction of travel at parameter t.
  Vec2 direction(double t) const;
};

struct Bounds {
  Vec2 low{0, 0};
  Vec2 high{0, 0};
  Vec2 size() const { return high - low; }
};

/// Area properties; the second moments are about axes through the centroid, parallel to x and y.
struct Moments {
  double area_mm2 = 0;
  Vec2 centroid{0, 0};
  double ixx_mm4 = 0;  ///< integral of (y - yc)^2
  double iyy_mm4 = 0;  ///< integral of (x - xc)^2
  double ixy_mm4 = 0;  ///< integral of (x - xc)(y - yc)
};

/// The nearest place on an outline to some point.
struct Nearest {
  double distance_mm = 0;  ///< never negative
  Vec2 point{0, 0};
  std::size_t edge = 0;
  double t = 0;  ///< parameter on that edge
};

/// What is wrong with a chain, and at which node (index into the chain).
struct OutlineFault {
  std::size_t node = 0;
  std::string what;
};

class OutlineError : public std::invalid_argument {
 public:
  explicit OutlineError(OutlineFault fault);
  const OutlineFault& fault() const { return fault_; }

 private:
  OutlineFault fault_;
};

/// Looks for what keeps a chain from being an outline: fewer than two nodes (three without arcs), numbers
/// that are not finite, an edge shorter than 1e-7 mm, |bulge| over 16, edges that cross or come within
/// 1e-7 mm of each other (neighbours: anywhere but at their common node), less than 1e-6 mm2 of area. Arcs
/// that leave their chord by less than 1e-4 mm count as straight.
std::optional<OutlineFault> find_fault(const std::vector<Node>& chain);

/// A valid closed chain, always counter-clockwise. A value: cheap to move, never changed after it is made.
class Outline {
 public:
  /// Throws OutlineError when find_fault finds something. A clockwise chain is turned round. Arcs that leave
  /// their chord by less than 1e-4 mm become the straight lines they pass for.
  explicit Outline(std::vector<Node> chain);
  /// For chains made by exact operations on valid outlines: skips the search for crossings.
  static Outline trusted(std::vector<Node> chain);

  const std::vector<Node>& nodes() const { return nodes_; }
  const std::vector<Edge>& edges() const { return edges_; }

  const Bounds& bounds() const { return bounds_; }
  double area_mm2() const { return area_mm2_; }
  double perimeter_mm() const;
  Moments moments() const;

  Nearest nearest(Vec2 p) const;
  /// True inside. Exact to rounding; on the boundary itself the answer may be either.
  bool contains(Vec2 p) const;
  /// Distance to the boundary: positive inside, negative outside.
  double depth_mm(Vec2 p) const;

  bool operator==(const Outline&) const;

 private:
  struct Search;

  Outline() = default;
  void derive();
  Search search_nearest(Vec2 p) const;
  void search_run(std::size_t run, Search& search) const;

  std::vector<Node> nodes_;
  std::vector<Edge> edges_;
  std::vector<Bounds> edge_boxes_;
  std::vector<Bounds> run_boxes_;  // round each run of neighbouring edges, for the search of the nearest
  Bounds bounds_;
  double area_mm2_ = 0;
};

}  // namespace haftwright
