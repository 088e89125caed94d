#include "haftwright/design/validate.hpp"

#include <set>
#include <utility>

#include "haftwright/design/range_visitor.hpp"
#include "haftwright/design/schema.hpp"
#include "validate_parts.hpp"

namespace haftwright {

using namespace design;
namespace {

void validate_materials(const Design& design, Problems& problems) {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < design.own_materials.size(); ++i)
    if (!seen.insert(design.own_materials[i].key).second)
      problems.push_back({indexed("materials", i, "key"),
                          "a second material called " + schema::quoted(design.own_materials[i].key)});
}

void validate_readings(const std::vector<CaliperReading>& readings, Problems& problems) {
  for (std::size_t i = 0; i < readings.size(); ++i)
    if (readings[i].kind == ReadingKind::step && !readings[i].from_pin.empty())
      problems.push_back({indexed("dry_fit", i, "from_pin"),
                          "must be left out of a step, which is read from one side's line to the other's"});
}

void validate_hand_places(const std::vector<HandPlace>& places, Problems& problems) {
  std::set<std::pair<Which, std::string_view>> seen;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (!seen.insert({places[i].side, places[i].piece}).second)
      problems.push_back({indexed("hand_places", i, "piece"),
                          "a second place for the piece " + schema::quoted(places[i].piece) + " of the " +
                              name_of(places[i].side) + " side; a piece can lie at one only"});
}

}  // namespace

void design::validate_rules(const ShopRules& rules, Problems& problems) {
  if (rules.glue_clearance_least_mm > rules.glue_clearance_most_mm)
    problems.push_back(
        {"rules.glue_clearance_least_mm", "must not be more than glue_clearance_most_mm, which is " +
                                              shortest_number(rules.glue_clearance_most_mm) + " mm"});
  if (rules.mix_near_share > rules.mix_error_share)
    problems.push_back({"rules.mix_near_share", "must not be more than mix_error_share, which is " +
                                                    shortest_number(rules.mix_error_share)});
}

std::vector<Problem> validate(const Design& design) {
  Problems problems;
  schema::RangeVisitor ranges(design.own_materials, problems);
  visit_fields(ranges, design);
  // What follows computes with the numbers, so they must make sense first.
  if (!problems.empty()) return problems;
  validate_materials(design, problems);
  validate_ids(design, problems);
  validate_rules(design.rules, problems);
  validate_readings(design.dry_fit, problems);
  validate_hand_places(design.hand_places, problems);
  const std::size_t before_places = problems.size();
  validate_sides(design, problems);
  validate_tang(design.tang, problems);
  if (problems.size() == before_places) validate_pins(design, problems);
  return problems;
}

}  // namespace haftwright
