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
};

/// The joint's faces lean with s, the axis does not: the distance to either face is linear in s, the distance
/// to the joint is the greater of the two, so the least is at an end or where both are equal.
Closest closest(const JointLayout& joint, Vec2 at, double height_mm) {
  const CutPlane& front = joint.lines.front().plane;
  const CutPlane& rear = joint.lines.back().plane;
  const double square = std::hypot(1.0, front.tan_slant);  // along x to square to the line, in plan
  const auto distance = [&](double s) {
    return std::max(-front.behind_mm(at.x, at.y, s), rear.behind_mm(at.x, at.y, s)) / square;
  };
  Closest best{distance(0), 0};
  const auto offer = [&](double s) {
    if (const double d = distance(s); d < best.distance_mm) best = {d, s};
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
        report.add({.id = "hole.joint",
                    .where = pin_words(design, i) + ", " + side_words(which) + ", joint " +
                             std::to_string(joint.joint + 1) + ", " +
                             depth_words(near.s_mm, height, design.shown_unit),
                    .place = on_side(report.handle, which, hole.at, near.s_mm),
                    .pin = i,
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
