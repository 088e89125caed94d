// A valid shop from a seed, every section of it unlike the default.
#pragma once

#include "haftwright/design/shop.hpp"
#include "support/random.hpp"

namespace haftwright::test {

inline Shop random_shop(std::uint64_t seed) {
  Random random(seed);
  Shop shop;
  for (const RuleRow& row : rule_rows()) shop.rules.*row.member = random.between(row.least, row.most);
  shop.rules.glue_clearance_most_mm = 2;
  shop.rules.mix_error_share = 1;
  for (const ErrorRow& row : error_rows()) shop.drilling.errors.*row.member = random.between(0, row.most);
  shop.drilling.way = static_cast<DrillWay>(random.index(5));
  shop.drilling.set_by = random.chance(0.5) ? SetBy::joint_line : SetBy::front_face;
  shop.drilling.fronts_together = random.chance(0.5);
  shop.drilling.glue_up = random.chance(0.5) ? GlueUp::even : GlueUp::crept;
  shop.adhesive.bond_line_mm = random.between(0, 2);
  shop.adhesive.mix_by = random.chance(0.5) ? MixBy::volume : MixBy::weight;
  if (random.chance(0.5)) shop.guide.bushing_outside_mm = random.between(1, 60);
  shop.guide.wedged = random.chance(0.5);
  shop.guide.stop_pin_mm = random.between(1, 30);
  for (const char* label : {"#30", "3.1 mm", "F"})
    if (random.chance(0.7)) {
      OwnedDrill& owned = shop.drills.emplace_back();
      owned.drill = label;
      if (random.chance(0.7)) owned.diameter_mm = random.between(0.1, 59);
      if (owned.diameter_mm && random.chance(0.5)) owned.measured_in = "tool_steel";
    }
  return shop;
}

}  // namespace haftwright::test
