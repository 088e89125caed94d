// The round-over: the envelope of a ball that rolls along the rails, touching the upright wall and the crown
// from inside.
//
// The ball's centre runs at the plan distance r from the wall, at the height zc(t) at which the ball touches
// the crown. Over a plan point p the envelope is the stationary value over t of
//   zc(t) + sqrt(r^2 - |p - c(t)|^2),
// where the ball touches its envelope in the plane square to its own path in space. There the envelope has
// the ball's normal. At the same t the ball touches the crown at q(t): short of q the envelope is the
// surface, past q the crown is. This is exact, along arcs and under a bending crown too; t and q are found
// together by Newton steps.
#pragma once

#include <optional>

#include "crown.hpp"
#include "rail.hpp"

namespace haftwright::geometry {

/// A place on the surface in space.
struct SurfacePoint {
  double z = 0;
  Vec2 gradient{0, 0};
};

/// A plan point and the surface over it before the round-over.
struct UnderCrown {
  Vec2 p{0, 0};
  Contact crown;
};

class RollingBall {
 public:
  RollingBall(const Crown& crown, const Rails& rails, double radius_mm)
      : crown_(crown), rails_(rails), radius_mm_(radius_mm) {}

  /// The envelope along the rail and its neighbours over a point whose foot lies on the rail; nothing where
  /// the crown is the surface.
  std::optional<SurfacePoint> envelope(const UnderCrown& point, const Rail& rail, const RailFoot& foot) const;

  /// True when the round-over of the `other` wall cannot be lower over the point than that of the `nearest`:
  /// the ball falls at most by the crown's slope while its wall turns from one to the other, which so much
  /// more depth makes good.
  bool is_hidden(const UnderCrown& point, const RailFoot& other, const RailFoot& nearest) const;

  /// How far square in from a place on the rail the line lies along which the ball touches the crown.
  double reach_mm(const Rail& rail, Vec2 on_rail) const;

 private:
  class Lane;
  struct Pose;
  struct Advance {
    double contact_moved_mm = 0;
    double stand = 0;
  };
  Advance advance(const UnderCrown& point, const Lane& lane, double ahead, Contact& contact) const;
  bool find_quickly(const UnderCrown& point, const Lane& lane, Pose& pose) const;
  void find_carefully(const UnderCrown& point, const Lane& lane, Pose& pose) const;
  Pose roll(const UnderCrown& point, const Rail& rail, const RailFoot& foot) const;
  static Vec2 steepness(const Pose& pose);
  std::uint32_t rolled_onto(const Rail& rail, bool forward, Vec2 centre, Vec2 inward) const;
  Pose roll_on(const UnderCrown& point, const Rail& rail, const RailFoot& foot) const;

  const Crown& crown_;
  const Rails& rails_;
  double radius_mm_;
};

}  // namespace haftwright::geometry
