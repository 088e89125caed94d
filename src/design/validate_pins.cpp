#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "haftwright/design/schema.hpp"
#include "haftwright/reference/drills.hpp"
#include "validate_parts.hpp"

namespace haftwright::design {
namespace {

bool given(const HoleSize& hole) {
  return !hole.drill.empty() || hole.diameter_mm.has_value();
}

void validate_drill(const HoleSize& hole, const std::string& field, Problems& problems) {
  if (hole.drill.empty()) return;
  if (std::string problem = drill_problem(hole.drill); !problem.empty())
    problems.push_back({field + ".drill", std::move(problem)});
}

void validate_tang_hole(const Pin& pin, const Tang& tang, const std::string& field, Problems& problems) {
  const bool existing = !pin.existing_tang_hole.empty();
  if (existing == given(pin.tang_hole)) {
    problems.push_back({field + ".tang_hole",
                        existing ? "give tang_hole or existing_tang_hole, not both"
                                 : "give a drill or diameter_mm, or name an existing_tang_hole instead"});
    return;
  }
  validate_drill(pin.tang_hole, field + ".tang_hole", problems);
  if (!existing) return;
  const auto hole = std::ranges::find(tang.holes, pin.existing_tang_hole, &TangHole::name);
  if (hole == tang.holes.end()) {
    std::vector<std::string> names;
    for (const TangHole& known : tang.holes) names.push_back(known.name);
    problems.push_back({field + ".existing_tang_hole",
                        "the tang has no hole called " + schema::quoted(pin.existing_tang_hole) +
                            schema::did_you_mean(nearest_word(pin.existing_tang_hole, names))});
    return;
  }
  const double off = glm::distance(hole->at_mm, pin.at_mm);
  if (off > kConcentricMm)
    problems.push_back(
        {field, "stands " + shortest_number(off) + " mm off the middle of tang hole " +
                    schema::quoted(hole->name) + "; a pin in an existing hole must have its x_mm " +
                    shortest_number(hole->at_mm.x) + " and y_mm " + shortest_number(hole->at_mm.y)});
}

void validate_holes(const Pin& pin, const Design& design, bool liners, const std::string& field,
                    Problems& problems) {
  if (pin.stock.bore_mm >= pin.stock.diameter_mm())
    problems.push_back({field + ".stock.bore_mm", "must be less than the pin's diameter, which is " +
                                                      shortest_number(pin.stock.diameter_mm()) + " mm"});
  if (!given(pin.scale_hole)) problems.push_back({field + ".scale_hole", "give a drill or diameter_mm"});
  if (liners && !given(pin.liner_hole))
    problems.push_back({field + ".liner_hole", "this handle has liners: give a drill or diameter_mm"});
  validate_drill(pin.scale_hole, field + ".scale_hole", problems);
  validate_drill(pin.liner_hole, field + ".liner_hole", problems);
  validate_tang_hole(pin, design.tang, field, problems);
}

/// How far the pin's axis stands behind the front face where it comes nearest to it.
double behind_front_mm(const Side& side, Vec2 at) {
  const auto tan_deg = [](double degrees) { return std::tan(degrees * std::numbers::pi / 180); };
  double scale_mm = MonotoneCubic(side.finish.thickness_mm).value(at.x);
  for (const Sheet& liner : side.liners) scale_mm -= liner.thickness_mm;
  const double inner = at.x - side.front.place_mm - at.y * tan_deg(side.front.slant_deg);
  return std::min(inner, inner - scale_mm * tan_deg(side.front.rake_deg));
}

void validate_place(const Pin& pin, const Outline& tang, const std::vector<Outline>& cutouts,
                    const Side& left, const Side& right, const std::string& field, Problems& problems) {
  if (tang.depth_mm(pin.at_mm) <= 0) {
    problems.push_back({field, "the pin must go through the tang, but its axis lies outside it"});
    return;
  }
  for (std::size_t k = 0; k < cutouts.size(); ++k)
    if (cutouts[k].depth_mm(pin.at_mm) >= 0)
      problems.push_back({field, "the pin's axis lies in cutout " + std::to_string(k) + " of the tang"});
  for (const Which which : {Which::left, Which::right})
    if (behind_front_mm(which == Which::left ? left : right, pin.at_mm) <= 0)
      problems.push_back({field, std::string("the pin comes out ahead of the front face on the ") +
                                     name_of(which) + " side"});
}

}  // namespace

std::string drill_problem(const std::string& label) {
  if (find_drill(label)) return {};
  return "no listed drill is called " + schema::quoted(label) +
         schema::did_you_mean(nearest_drill_label(label)) + "; 'haftwright list drills' names them all";
}

void validate_pins(const Design& design, Problems& problems) {
  const Outline tang(design.tang.outline);
  const std::vector<Outline> cutouts(design.tang.cutouts.begin(), design.tang.cutouts.end());
  const Side right = design.right_side();
  const bool liners = !design.left.liners.empty() || !right.liners.empty();
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Pin& pin = design.pins[i];
    const std::string field = indexed("pins", i);
    if (!seen.insert(pin.name).second)
      problems.push_back({field + ".name", "a second pin called " + schema::quoted(pin.name)});
    validate_holes(pin, design, liners, field, problems);
    validate_place(pin, tang, cutouts, design.left, right, field, problems);
  }
}

}  // namespace haftwright::design
