// The edge outline as the ball feels it: rails along which it rolls.
//
// Beside every edge of the outline there are rails for its corners:
//   - at a corner that turns into the material (reflex) the ball swings round the corner: an arc of no
//   radius;
//   - at a convex corner two round-overs meet in a mitre, each going on a little past the corner as the wall
//     would; the lower of both is the surface;
//   - a convex arc tighter than the ball is a blunt corner: the walls on both sides go on straight past it,
//   and
//     each place of the arc takes its part away as an upright flat wall would;
//   - at a convex corner a fan outside, which only tells that a point there lies outside.
// Rails joined smoothly know each other, since the ball that shapes a point may stand on the neighbour of the
// rail that is nearest to it. Places and directions along a rail run with the outline; the material is on the
// left.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "edge_geometry.hpp"
#include "haftwright/geometry/outline.hpp"

namespace haftwright::geometry {

struct Rail {
  static constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

  Edge shape;             ///< for a corner's fan from = to = centre
  double turn = 0;        ///< 0 straight, +1 round the material, -1 away from it
  Vec2 along_from{0, 0};  ///< unit directions of travel at the ends
  Vec2 along_to{0, 0};
  bool measures = true;          ///< a part of the outline: counts for distance and side
  bool blunt = false;            ///< an arc tighter than the ball
  bool rounds = true;            ///< the ball rolls along it
  std::uint32_t before = kNone;  ///< rail joined smoothly to the start
  std::uint32_t after = kNone;

  bool straight() const { return turn == 0; }
  /// True when the foot of `p` lies on the rail. A hair over at the ends, which is more than a smooth join
  /// can open up within a ball's reach, so that no point falls between two rails.
  bool spans(Vec2 p) const {
    constexpr double over_mm = 2e-6;
    const bool after_start = glm::dot(along_from, p - shape.from) >= -over_mm;
    const bool before_end = glm::dot(along_to, p - shape.to) <= over_mm;
    return std::abs(shape.bulge) > 1 ? after_start || before_end : after_start && before_end;
  }
};

/// Where a point stands to a rail drawn on endlessly.
struct RailFoot {
  double depth_mm = 0;        ///< positive on the material's side
  Vec2 inward{0, 0};          ///< unit normal at the foot
  double from_centre_mm = 0;  ///< arcs only
};
inline RailFoot foot_of(const Rail& rail, Vec2 p) {
  const Vec2 left = turned_left(rail.along_from);
  if (rail.straight()) return {glm::dot(left, p - rail.shape.from), left, 0};
  const Vec2 spoke = p - rail.shape.centre;
  const double a = std::sqrt(length_squared(spoke));
  if (a == 0) return {rail.turn * rail.shape.radius, left, 0};
  return {-rail.turn * circle_distance_mm(rail.shape, p), spoke * (-rail.turn / a), a};
}

/// The rails of an outline.
class Rails {
 public:
  /// `radius_mm` is that of the ball; with 0 there are only the rails that measure.
  Rails(const Outline& outline, double radius_mm);

  std::size_t edges() const { return edges_; }
  /// An edge of the outline, in its order, or a corner's rail.
  const Rail& operator[](std::size_t i) const { return rails_[i]; }
  /// Calls visit(rail) for an edge and for the rails of its corners that can matter where the edge is within
  /// reach.
  template <class Visit>
  void visit_near(std::size_t edge, Visit&& visit) const {
    visit(rails_[edge]);
    for (std::uint32_t i = beside_[edge]; i < beside_[edge + 1]; ++i) visit(rails_[i]);
  }

 private:
  void add(const Rail& rail) { rails_.push_back(rail); }
  std::uint32_t last() const { return static_cast<std::uint32_t>(rails_.size() - 1); }
  void link(std::size_t before, std::size_t after);
  double turn_at(std::size_t edge, std::size_t next) const;
  void go_on_past(std::size_t edge, std::size_t next, double radius_mm);
  void turn_corner(std::size_t edge, std::size_t next);
  void come_before(std::size_t edge, std::size_t next, double radius_mm);

  std::size_t edges_;
  std::vector<Rail> rails_;
  std::vector<std::uint32_t> beside_;  // one more than edges
};

}  // namespace haftwright::geometry
