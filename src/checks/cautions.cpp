// Short cautions for what a project uses.
#include <algorithm>
#include <set>

#include "haftwright/checks/checks.hpp"

namespace haftwright {
namespace {

/// A caution for every material of a project that carries a hazard. "%" stands for the materials' names.
struct HazardCaution {
  Hazard hazard;
  const char* text;
};
constexpr HazardCaution kHazards[] = {
    {wood_dust,
     "Wood dust (%) irritates skin and airways, and the International Agency for Research on Cancer finds "
     "that it "
     "causes cancer of the nose and sinuses; fine dust can also burn explosively. Extract it where it is "
     "made, then "
     "wear a fitted respirator."},
    {sensitising_wood,
     "Skin rashes or breathing trouble are reported from %. Once a body is sensitised very little dust is "
     "enough: cover "
     "up, wash it off, and stop at the first sign."},
    {fibre_dust,
     "Dust of glass and carbon laminates (%) irritates eyes, skin, nose and throat; carbon dust also carries "
     "current "
     "and can short electrical gear. Cut it wet or with extraction and never sweep it dry."},
    {resin_dust, "The resin in % makes its dust a further irritant. Use extraction and a fitted respirator."},
    {mineral_dust,
     "Treat dust of bone, shell, horn and antler (%) as harmful fine dust, and work only clean, degreased "
     "material."},
    {trade_controlled, "Trade in % may be controlled. Check before you buy, sell or ship."},
    {oily_wood, "Oily woods (%) take glue badly. Degrease the faces just before gluing, away from flames."},
};

/// Names of all materials in the project, in alphabetical order, each once.
std::set<std::string> materials_used(const Design& design) {
  std::set<std::string> keys;
  for (const Side& side : {design.left, design.right_side()}) {
    for (const Sheet& liner : side.liners) keys.insert(liner.material);
    for (const Piece& piece : side.pieces) keys.insert(piece.material);
    for (const Joint& joint : side.joints)
      for (const Sheet& spacer : joint.spacers) keys.insert(spacer.material);
  }
  for (const Pin& pin : design.pins) keys.insert(pin.stock.material);
  return keys;
}

/// "a", "a and b", "a, b and c".
std::string listed(const std::set<std::string>& names) {
  std::string text;
  std::size_t left = names.size();
  for (const std::string& name : names) {
    text += name;
    --left;
    if (left == 1) text += " and ";
    if (left > 1) text += ", ";
  }
  return text;
}

void add_hazards(const Design& design, std::vector<std::string>& cautions) {
  const auto keys = materials_used(design);
  for (const HazardCaution& caution : kHazards) {
    std::set<std::string> names;
    for (const std::string& key : keys)
      if (const Material* material = design.material(key);
          material && (material->hazards & caution.hazard) != 0)
        names.insert(material->name);
    if (names.empty()) continue;
    std::string text = caution.text;
    text.replace(text.find('%'), 1, listed(names));
    cautions.push_back(std::move(text));
  }
}

void add_pins(const Design& design, std::vector<std::string>& cautions) {
  if (design.pins.empty()) return;
  cautions.emplace_back(
      "Clamp work and vice to the drilling machine's table and never hold small or thin parts by hand. Wear "
      "eye "
      "protection, no gloves, loose sleeves or rings, and take the chuck key out before starting.");
  cautions.emplace_back(
      "Thin steel climbs the drill as it breaks through: clamp it down on a backing board and ease the "
      "feed.");
  const bool new_hole = std::any_of(design.pins.begin(), design.pins.end(),
                                    [](const Pin& pin) { return pin.existing_tang_hole.empty(); });
  if (new_hole && design.tang.hardened)
    cautions.emplace_back(
        "This tang is hardened: high-speed steel drills do not cut it, and solid carbide ones cut it but are "
        "brittle and "
        "need a rigid machine. Where you still can, drill before hardening.");
  else if (new_hole)
    cautions.emplace_back(
        "Drill, ream and chamfer the tang before hardening, and measure its holes again afterwards: "
        "hardening moves "
        "them.");
  cautions.emplace_back(
      "Grinding pins flush heats them, and the heat runs down into glue and wood. Work in short passes and "
      "stop to cool "
      "while you can still touch the pin.");
}

}  // namespace

std::vector<std::string> cautions(const Design& design) {
  std::vector<std::string> cautions;
  add_hazards(design, cautions);
  cautions.emplace_back(
      "Uncured epoxy can sensitise skin and airways for good: wear nitrile gloves and change them often, air "
      "the room, "
      "and wash skin with soap and water, never solvent. Do not sand it before it has fully cured.");
  add_pins(design, cautions);
  cautions.emplace_back("Tape and cover the blade's edge through all handle work.");
  cautions.emplace_back(
      "All figures here are aids to judgement and not a statement that the work is safe: local rules, the "
      "products' "
      "safety data sheets, the machines' manuals and licensed practice come first.");
  return cautions;
}

}  // namespace haftwright
