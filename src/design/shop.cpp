#include "haftwright/design/shop.hpp"

#include <map>

#include "haftwright/design/range_visitor.hpp"
#include "haftwright/design/shop_schema.hpp"
#include "haftwright/reference/drills.hpp"
#include "validate_parts.hpp"

namespace haftwright {

using namespace design;
namespace {

/// In what a drill was measured: a metal, anything else, or in what the shop does not say.
enum class MeasuredIn { unsaid, metal, other };

MeasuredIn measured_in(const OwnedDrill& owned) {
  const Material* material = find_material(owned.measured_in);
  if (!material) return MeasuredIn::unsaid;
  return material->kind == MaterialKind::metal ? MeasuredIn::metal : MeasuredIn::other;
}

/// What keeps an entry from standing beside an earlier one of the same drill; empty when nothing does.
std::string beside_problem(const OwnedDrill& owned, const OwnedDrill& earlier) {
  const bool said = !owned.measured_in.empty() && !earlier.measured_in.empty();
  if (said && measured_in(owned) != measured_in(earlier)) return {};
  return "is " + schema::quoted(owned.drill) +
         ", which stands further up already; a drill is given once, or once measured in a metal and once in "
         "something else";
}

void validate_drills(const std::vector<OwnedDrill>& drills, Problems& problems) {
  std::multimap<std::string_view, const OwnedDrill*> seen;
  for (std::size_t i = 0; i < drills.size(); ++i) {
    const OwnedDrill& owned = drills[i];
    const std::string field = indexed("drills", i, "drill");
    std::string problem = drill_problem(owned.drill);
    if (problem.empty()) {
      const std::string_view label = find_drill(owned.drill)->label;
      const auto [first, last] = seen.equal_range(label);
      for (auto earlier = first; earlier != last && problem.empty(); ++earlier)
        problem = beside_problem(owned, *earlier->second);
      seen.emplace(label, &owned);
    }
    if (!problem.empty()) problems.push_back({field, std::move(problem)});
    if (!owned.measured_in.empty() && !owned.diameter_mm)
      problems.push_back({indexed("drills", i, "measured_in"),
                          "must be left out where there is no diameter_mm that was measured"});
  }
}

}  // namespace

std::vector<Problem> validate(const Shop& shop) {
  Problems problems;
  const std::vector<Material> no_own_materials;
  schema::RangeVisitor ranges(no_own_materials, problems);
  visit_fields(ranges, shop);
  if (!problems.empty()) return problems;
  validate_drills(shop.drills, problems);
  validate_rules(shop.rules, problems);
  return problems;
}

}  // namespace haftwright
