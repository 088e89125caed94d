// Hole to joint lines and spacer strips, through the whole thickness of the scale.
#include <algorithm>
#include <cmath>

#include "kinds.hpp"

namespace haftwright::checks {
namespace {

struct Closest {
  double distance_mm =
      0;            ///< from the axis to the joint, square to it in plan; negative inside a spacer stack
  double s_mm = 0;  ///< where along the axis
  Vec2 at{0, 0};    ///< the joint's nearest place there, in plan
};

/// The joint's faces lean with s, the axis does not: the distance to either face is linear in s, the distance
/// to the joint is the greater of the two, so the least is at an end or where both are equal.
Closest closest(const JointLayout& joint, Vec2 at, double height_mm) {
  const CutPlane& front = joint.lines.front().plane;
  const CutPlane& rear = joint.lines.back().plane;
  const double square = std::hypot(1.0, front.tan_slant);  // along x to square to the line, in plan
  const Vec2 rearward = Vec2{1, -front.tan_slant} / square;
  const auto at_height = [&](double s) {
    const double to_front = -front.behind_mm(at.x, at.y, s) / square;
    const double to_rear = rear.behind_mm(at.x, at.y, s) / square;
    return to_front >= to_rear ? Closest{to_front, s, at + rearward * to_front}
                               : Closest{to_rear, s, at - rearward * to_rear};
  };
  Closest best = at_height(0);
  const auto offer = [&](double s) {
    if (const Closest here = at_height(s); here.distance_mm < best.distance_mm) best = here;
  };
  offer(height_mm);
  if (front.tan_rake != 0) {
    const double middle_behind = (front.behind_mm(at.x, at.y, 0) + rear.behind_mm(at.x, at.y, 0)) / 2;
    const double crossing = middle_behind / front.tan_rake;
    if (crossing > 0 && crossing < height_mm) offer(crossing);
  }
  return best;
}

std::string what_happens(double distance_mm, double radius_mm, bool spacers) {
  if (distance_mm < radius_mm)
    return std::string("The hole cuts ") + (spacers ? "the spacer strip" : "the joint line") +
           ": the drill wanders along the glue line and the pin shows in the joint. ";
  return "Wood between a hole and a joint is end grain with little behind it and splits off. ";
}

}  // namespace

void check_hole_joint(const Report& report) {
  const Design& design = report.design;
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const PlanHole hole = scale_hole(design.pins[i]);
    for (const Which which : kBothSides) {
      const SideLayout& side = report.handle.side(which);
      const double height = side.scale_height_mm(hole.at);
      for (const JointLayout& joint : side.joints) {
        const Closest near = closest(joint, hole.at, height);
        Spot at = pin_spot(i, which);
        set_level(at, near.s_mm, height);
        report.add({.id = "hole.joint",
                    .where = {at, Spot{.thing = Thing::joint, .index = joint.joint}},
                    .place = on_side(report.handle, which, hole.at, near.s_mm),
                    .to = on_side(report.handle, which, near.at, near.s_mm),
                    .value = near.distance_mm,
                    .limit = design.rules.joint_centre_diameters * hole.diameter_mm,
                    .why = what_happens(near.distance_mm, hole.diameter_mm / 2, joint.lines.size() > 1) +
                           "Move the pin or the joint, or rake the joint less.",
                    .basis = basis_words(&ShopRules::joint_centre_diameters)});
      }
    }
  }
}

}  // namespace haftwright::checks
