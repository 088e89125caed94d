// Liners, wood and spacer strips: does the stack add up?
#include <algorithm>
#include <cmath>

#include "kinds.hpp"

namespace haftwright::checks {

/// Across the handle the surface is lowest at the side walls, so the thinnest wood is at the lowest wall.
void check_stack_wood(const Report& report) {
  for (const Which which : kBothSides) {
    const SideLayout& side = report.handle.side(which);
    const LowWall& low = side.lowest_wall;
    report.add(
        {.id = "stack.wood",
         .where = {{.thing = Thing::wall, .sides = sides_of(which)}},
         .place = on_side(report.handle, which, low.at, low.wood_mm),
         .value = low.wood_mm,
         .limit = report.design.rules.least_wood_mm,
         .why =
             "Thin wood over a liner or the tang splits and sands through. Make the scale thicker there, the "
             "liner thinner, the crown flatter or the round-over smaller.",
         .basis = basis_words(&ShopRules::least_wood_mm)});
  }
}

void check_stack_liners(const Report& report) {
  const double left = report.handle.left.liner_total_mm;
  const double right = report.handle.right.liner_total_mm;
  const LengthUnit shown = report.design.shown_unit;
  report.add({.id = "stack.liners",
              .where = {{.thing = Thing::liners, .sides = Sides::both}},
              .value = std::abs(left - right),
              .limit = report.design.rules.thickness_agreement_mm,
              .sense = Sense::at_most,
              .why = "The liners add up to " + length_in_both(left, shown) + " on the left and " +
                     length_in_both(right, shown) +
                     " on the right. Unequal stacks show along the spine and leave one side less wood.",
              .basis = basis_words(&ShopRules::thickness_agreement_mm)});
}

void check_stack_spacers(const Report& report) {
  for (const Which which : kBothSides) {
    const SideLayout& side = report.handle.side(which);
    const auto length_of = [&](std::size_t piece) {
      const auto part = std::find_if(side.parts.begin(), side.parts.end(), [&](const Part& candidate) {
        return candidate.kind == PartKind::piece && candidate.index == piece;
      });
      return part->plan_bounds.size().x;
    };
    for (const JointLayout& joint : side.joints) {
      if (joint.lines.size() < 2) continue;  // no strips in it
      const double strips = joint.lines.back().plane.x0_mm - joint.lines.front().plane.x0_mm;
      report.add(
          {.id = "stack.spacers",
           .where = {{.thing = Thing::joint, .index = joint.joint, .sides = sides_of(which)}},
           .place = joint.lines.front().spine.inner,
           .value = strips,
           .limit = std::min(length_of(joint.joint), length_of(joint.joint + 1)),
           .sense = Sense::at_most,
           .why =
               "Strips that add up to more than the piece beside them are no spacers any more; look whether "
               "a thickness was typed in the wrong unit.",
           .basis = "common practice"});
    }
  }
}

}  // namespace haftwright::checks
