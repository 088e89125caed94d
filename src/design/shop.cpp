#include "haftwright/design/shop.hpp"

#include <set>

#include "haftwright/design/shop_schema.hpp"
#include "haftwright/reference/drills.hpp"
#include "range_visitor.hpp"
#include "validate_parts.hpp"

namespace haftwright {

using namespace design;
namespace {

void validate_drills(const std::vector<OwnedDrill>& drills, Problems& problems) {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < drills.size(); ++i) {
    const OwnedDrill& owned = drills[i];
    if (std::string problem = drill_problem(owned.drill); !problem.empty())
      problems.push_back({indexed("drills", i, "drill"), std::move(problem)});
    else if (!seen.insert(find_drill(owned.drill)->label).second)
      problems.push_back({indexed("drills", i, "drill"), "is " + schema::quoted(owned.drill) +
                                                             ", which stands further up already; a drill is "
                                                             "given once"});
    if (!owned.measured_in.empty() && !owned.diameter_mm)
      problems.push_back({indexed("drills", i, "measured_in"),
                          "must be left out where there is no diameter_mm that was measured"});
  }
}

}  // namespace

const OwnedDrill* owned_drill(const Shop& shop, std::string_view label) {
  const auto wanted = find_drill(label);
  if (!wanted) return nullptr;
  for (const OwnedDrill& owned : shop.drills)
    if (const auto listed = find_drill(owned.drill); listed && listed->label == wanted->label) return &owned;
  return nullptr;
}

std::vector<Problem> validate(const Shop& shop) {
  Problems problems;
  const std::vector<Material> no_own_materials;
  RangeVisitor ranges(no_own_materials, problems);
  visit_fields(ranges, shop);
  if (!problems.empty()) return problems;
  validate_drills(shop.drills, problems);
  validate_rules(shop.rules, problems);
  return problems;
}

}  // namespace haftwright
