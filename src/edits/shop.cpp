#include "haftwright/edits/shop.hpp"

#include <algorithm>

#include "haftwright/design/quantities.hpp"
#include "haftwright/design/validate.hpp"

namespace haftwright {
namespace {

/// Sets a number where it may go; else says whose it is and how far that goes.
template <class Set>
Edited within(const Design& design, const schema::Quantity& quantity, std::string_view what, double value,
              Set&& set) {
  const std::string problem = schema::range_problem(quantity, value);
  if (!problem.empty()) return Edited::refused(std::string(what) + ": " + problem);
  Design edited = design;
  set(edited);
  return edited;
}

}  // namespace

Edited set_rule(const Design& design, double ShopRules::*rule, double value) {
  const RuleRow& row = rule_row(rule);
  return within(design, {row.unit, row.least, row.most}, row.what, value,
                [&](Design& edited) { edited.rules.*rule = value; });
}

Edited set_error(const Design& design, double ShopErrors::*error, double value) {
  const ErrorRow& row = error_row(error);
  return within(design, {row.unit, 0, row.most}, row.what, value,
                [&](Design& edited) { edited.drilling.errors.*error = value; });
}

Edited set_drill_way(const Design& design, DrillWay way) {
  Design edited = design;
  edited.drilling.way = way;
  return edited;
}

Edited set_guide_thickness(const Design& design, double thickness_mm) {
  Design edited = design;
  edited.guide.plate_thickness_mm = thickness_mm;
  for (const Problem& problem : validate(edited))
    if (problem.field == "guide.plate_thickness_mm")
      return Edited::refused("thickness of the guide's plate: " + problem.what);
  return edited;
}

Edited saw_from_one_block(const Design& design) {
  if (design.drilling.one_block) return Edited::refused("both scales are sawn from one block already");
  if (!design.mirrored()) return Edited::refused("the sides differ: one block makes both scales alike");
  if (std::ranges::any_of(design.left.joints, [](const Joint& joint) { return joint.rake_deg != 0; }))
    return Edited::refused(
        "halves of one block have their joints' rake the other way: only upright joints come out alike");
  Design edited = design;
  edited.drilling.one_block = true;
  return edited;
}

}  // namespace haftwright
