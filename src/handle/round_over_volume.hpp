// What the round-over takes away from under the crown.
#pragma once

#include <optional>
#include <vector>

#include "scale_body.hpp"

namespace haftwright::layout {

/// The strip of the plan along one edge in which the round-over lies. Places in it are given by the parameter
/// t along the edge and the depth square in from it.
class RoundOverStrip {
 public:
  RoundOverStrip(const ScaleBody& body, std::size_t edge);

  /// The planes between which to look, upright.
  struct Between {
    CutPlane front;
    std::optional<CutPlane> rear;
    bool holds(Vec2 p) const;
  };
  double volume_mm3(const Between& between) const;

 private:
  bool may_meet(const Between& between) const;
  Vec2 place(double t, double depth) const;
  double width(double t) const;
  double shrink(double depth) const;
  std::vector<double> stops_at(double share, const Between& between) const;
  double along(double from, double to, double share) const;
  double rate(double t, double share) const;
  double round_reflex_corner(const Between& between) const;

  const ScaleBody* body_;
  const Edge* edge_;
  double length_ = 0;
  double from_turn_ = 0;  // at the edge's start, positive away from the material
  /// Where the strip gives way to that of another edge: it widens by `slope` from a corner that lies
  /// `beyond_mm` past the edge's end.
  struct Bisector {
    double beyond_mm;
    double slope;
  };
  void add_bisectors(std::size_t edge, int step, std::vector<Bisector>& found) const;
  std::vector<Bisector> from_limits_;
  std::vector<Bisector> to_limits_;
  double reach_[3] = {0, 0, 0};  // of the round-over, at t = 0, 1/2, 1
};

/// What the round-over takes away all round a side.
class RoundOverVolume {
 public:
  /// Keeps a reference to `body`.
  explicit RoundOverVolume(const ScaleBody& body);

  /// Volume between crown and finished surface behind `front` and, when given, ahead of `rear`; both planes
  /// are taken upright. Integrated along the edge and square in from it, where the surface is smooth: every
  /// point counts to the nearest edge. Error about a ten-thousandth of the volume itself.
  double taken_mm3(const CutPlane& front, const std::optional<CutPlane>& rear) const;

 private:
  std::vector<RoundOverStrip> strips_;  // none without a round-over
};

}  // namespace haftwright::layout
