#include "haftwright/edits/shop.hpp"

#include "haftwright/design/schema.hpp"

namespace haftwright {

Edited set_rule(const Design& design, double ShopRules::*rule, double value) {
  const RuleRow& row = rule_row(rule);
  const std::string problem = schema::range_problem({row.unit, row.least, row.most}, value);
  if (!problem.empty()) return Edited::refused(std::string(row.what) + ": " + problem);
  Design edited = design;
  edited.rules.*rule = value;
  return edited;
}

}  // namespace haftwright
