// How far a raked joint's line moves along the handle as thickness is taken off.
#include <cmath>

#include "kinds.hpp"

namespace haftwright::checks {

void check_joint_walk(const Report& report) {
  constexpr double kTakenOff = 0.1;  // mm: about what a few strokes of sanding remove
  for (const Which which : kBothSides) {
    for (const JointLayout& joint : report.handle.side(which).joints) {
      const JointLine& line = joint.lines.front();
      const double walk = kTakenOff * line.plane.tan_rake;
      const std::string way = walk == 0 ? "It stays where it is"
                                        : std::string("It moves toward the ") + (walk > 0 ? "front" : "butt");
      report.add(
          {.id = "joint.walk",
           .where = {{.thing = Thing::joint,
                      .index = joint.joint,
                      .sides = sides_of(which),
                      .mm = kTakenOff,
                      .aspect = Aspect::walk}},
           .place = line.spine.outer,
           .value = std::abs(walk),
           .limit = report.design.rules.joint_step_mm,
           .sense = Sense::at_most,
           .why = way +
                  " as the scale is thinned. Take the same off both sides, or the lines part across the "
                  "spine.",
           .basis = basis_words(&ShopRules::joint_step_mm)});
    }
  }
}

}  // namespace haftwright::checks
