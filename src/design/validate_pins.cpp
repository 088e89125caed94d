#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/design/holes.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/schema.hpp"
#include "haftwright/reference/drills.hpp"
#include "validate_parts.hpp"

namespace haftwright::design {
namespace {

void validate_drill(const HoleSize& hole, const std::string& field, Problems& problems) {
  if (hole.drill.empty()) return;
  if (std::string problem = drill_problem(hole.drill); !problem.empty())
    problems.push_back({field + ".drill", std::move(problem)});
}

void validate_tang_hole(const Pin& pin, const Design& design, const std::string& field, Problems& problems) {
  const bool existing = !pin.existing_tang_hole.empty();
  if (existing == is_given(pin.tang_hole)) {
    problems.push_back({field + ".tang_hole",
                        existing ? "give tang_hole or existing_tang_hole, not both"
                                 : "give a drill or diameter_mm, or name an existing_tang_hole instead"});
    return;
  }
  validate_drill(pin.tang_hole, field + ".tang_hole", problems);
  if (!existing) return;
  const TangHole* hole = existing_tang_hole(design, pin);
  if (!hole) {
    problems.push_back({field + ".existing_tang_hole",
                        "the tang has no hole with the id " + schema::quoted(pin.existing_tang_hole) +
                            schema::did_you_mean(nearest_id(pin.existing_tang_hole, design.tang.holes))});
    return;
  }
  const double off = glm::distance(hole->at_mm, pin.at_mm);
  if (off > kConcentricMm)
    problems.push_back(
        {field, "stands " + shortest_number(off) + " mm off the middle of tang hole " +
                    schema::quoted(hole->id) + "; a pin in an existing hole must have its x_mm " +
                    shortest_number(hole->at_mm.x) + " and y_mm " + shortest_number(hole->at_mm.y)});
}

void validate_holes(const Pin& pin, const Design& design, bool liners, const std::string& field,
                    Problems& problems) {
  if (pin.stock.bore_mm >= pin.stock.diameter_mm())
    problems.push_back({field + ".stock.bore_mm", "must be less than the pin's diameter, which is " +
                                                      shortest_number(pin.stock.diameter_mm()) + " mm"});
  if (!is_given(pin.scale_hole)) problems.push_back({field + ".scale_hole", "give a drill or diameter_mm"});
  if (liners && !is_given(pin.liner_hole))
    problems.push_back({field + ".liner_hole", "this handle has liners: give a drill or diameter_mm"});
  validate_drill(pin.scale_hole, field + ".scale_hole", problems);
  validate_drill(pin.liner_hole, field + ".liner_hole", problems);
  validate_tang_hole(pin, design, field, problems);
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
  for (std::size_t i = 0; i < design.pins.size(); ++i) {
    const Pin& pin = design.pins[i];
    const std::string field = indexed("pins", i);
    validate_holes(pin, design, liners, field, problems);
    validate_place(pin, tang, cutouts, design.left, right, field, problems);
  }
}

}  // namespace haftwright::design
