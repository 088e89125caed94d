// Constrained Delaunay triangulation of a plan: points, then edges that must be kept, then the regions
// between them.
//
// Points are told apart on a grid of 2^23 steps across the plan (15 nm for a handle), on which the side of a
// line is exact in double precision. So the triangulation is always a proper one, whatever comes in: edges
// that cross are split, points that fall together are one. Lawson flips (C. L. Lawson, Mathematical Software
// III (1977) 161-194); edges are forced by flipping what crosses them (S. W. Sloan, Computers & Structures 47
// (1993) 441-450).
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "haftwright/geometry/outline.hpp"

namespace haftwright::preview {

/// The corner after and before corner i of a triangle, and the place of a value among three.
constexpr unsigned next(unsigned i) {
  return i == 2 ? 0 : i + 1;
}
constexpr unsigned previous(unsigned i) {
  return i == 0 ? 2 : i - 1;
}
constexpr unsigned place_of(const std::array<std::uint32_t, 3>& of, std::uint32_t wanted) {
  return of[0] == wanted ? 0 : of[1] == wanted ? 1 : 2;
}

class PlanTriangulation {
 public:
  using Corner = std::uint32_t;  ///< index into points()

  struct BoundaryEdge {
    Corner from = 0;  ///< the kept side lies on the left
    Corner to = 0;
    int curve = 0;  ///< as given to constrain()
  };
  struct Kept {
    std::vector<std::array<Corner, 3>> triangles;  ///< counter-clockwise
    std::vector<BoundaryEdge> boundary;
  };

  /// Empties it for points inside `bounds`; memory is kept.
  void start(const Bounds& bounds);
  /// Adds a point. The corner of an earlier point when it falls together with one.
  Corner add(Vec2 p);
  /// Adds points in an order that keeps the work short; corners[i] is that of points[i].
  void add(std::span<const Vec2> points, std::vector<Corner>& corners);
  /// Makes sure that the straight edge is there (in parts, when it runs over a point or another such edge).
  /// All points must have been added. `curve` >= 0.
  void constrain(Corner from, Corner to, int curve);

  /// The regions whose inside passes the test, tried at the middle of each region's largest triangle.
  Kept keep_where(const std::function<bool(Vec2)>& inside) const;
  /// The regions to the left of constrained edges.
  Kept keep_left() const;

  const std::vector<Vec2>& points() const { return points_; }

 private:
  static constexpr std::uint32_t kNone = 0xffffffff;
  static constexpr std::int32_t kFree = -1;

  struct Triangle {
    std::array<Corner, 3> corner{};
    std::array<std::uint32_t, 3> beside{};  // across the edge opposite each corner
    std::array<std::int32_t, 3> tag{kFree, kFree,
                                    kFree};  // of that edge: 2 curve + (1 when kept on this side)
  };
  struct Place {
    std::uint32_t triangle = 0;
    unsigned edge = 0;
  };

  double side(Corner a, Corner b, Corner c) const;
  bool in_circle(const Triangle& t, Corner d) const;
  std::uint32_t locate(Corner p);
  Corner new_point(Vec2 p);
  std::uint32_t new_triangle();
  void set_beside(std::uint32_t triangle, std::uint32_t was, std::uint32_t is);
  void fan(Corner middle, std::span<const std::uint32_t> triangles);
  void split_triangle(std::uint32_t t, Corner p);
  void split_edge(Place place, Corner p);
  void legalise(Corner p, std::uint32_t first);
  void flip(std::uint32_t t, unsigned edge);
  Place find_edge(Corner a, Corner b) const;
  Corner force(Corner from, Corner to, int curve, int depth);
  Corner leave(Corner from, Corner to);
  Corner follow_crossings(Corner from, Corner to, std::optional<Place>& kept);
  Corner apex_over(Place place) const;
  bool clear_way(Corner from, Corner to);
  Corner cross(Place place, Corner from, Corner to);
  void mark(Place place, int curve);
  std::vector<std::uint32_t> regions() const;
  Kept collect(const std::vector<std::uint32_t>& region_of, const std::vector<char>& keep) const;
  double area(const Triangle& t) const;

  Vec2 low_{0, 0};
  double scale_ = 1;
  std::vector<Vec2> points_;                // as given; the first four are corners of a square round the plan
  std::vector<Vec2> grid_;                  // the same in whole grid steps
  std::vector<std::uint32_t> triangle_at_;  // one triangle at each point
  std::vector<Triangle> triangles_;
  std::uint32_t last_ = 0;
  std::vector<std::uint32_t> stack_;
  std::vector<std::array<Corner, 2>> crossing_;
};

}  // namespace haftwright::preview
