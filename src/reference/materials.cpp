#include "haftwright/reference/materials.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "material_tables.hpp"

namespace haftwright {

using namespace reference;
namespace {

constexpr double kWaterDensity = 1000;  // kg/m3
constexpr double kAirDryMoisture = 0.12;

/// Wood Handbook FPL-GTR-190 (2010) ch. 4: density at 12 % moisture from specific gravity, to whole kg/m3.
double air_dry_density(const WoodRow& row) {
  // Of the shrinkage from green (30 % moisture) to ovendry, 18/30 has happened at 12 %.
  constexpr double kShareOfShrinkage = 0.6;
  double gravity = row.figure;
  switch (row.basis) {
    case WoodBasis::weighed:
      return row.figure;
    case WoodBasis::gravity_basic:
      gravity /= 1 - kShareOfShrinkage * row.shrinkage_pct / 100;
      break;
    case WoodBasis::gravity_at_12:
      break;
  }
  return std::round(kWaterDensity * gravity * (1 + kAirDryMoisture));
}

Colour colour_of(std::uint32_t rgb) {
  const auto channel = [rgb](int shift) { return static_cast<float>((rgb >> shift) & 0xffu) / 255.0f; };
  return {channel(16), channel(8), channel(0)};
}

std::vector<Material> make_table() {
  std::vector<Material> materials;
  for (const auto& row : wood_table())
    materials.push_back({std::string(row.key), std::string(row.name), MaterialKind::wood,
                         air_dry_density(row), std::string(row.source), row.hazards | wood_dust,
                         colour_of(row.colour)});
  for (const auto& row : other_material_table())
    materials.push_back({std::string(row.key), std::string(row.name), row.kind, row.density_kg_m3,
                         std::string(row.source), row.hazards, colour_of(row.colour)});
  std::sort(materials.begin(), materials.end(), [](const auto& a, const auto& b) { return a.key < b.key; });
  return materials;
}

/// The words of a name in lower case, each between spaces: "Osage-orange" is " osage orange ".
std::string words_of(std::string_view name) {
  std::string words = " ";
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) || byte >= 0x80)
      words += static_cast<char>(std::tolower(byte));
    else if (words.back() != ' ')
      words += ' ';
  }
  if (words.back() != ' ') words += ' ';
  return words;
}

}  // namespace

std::span<const Material> listed_materials() {
  static const std::vector<Material> table = make_table();
  return table;
}

const Material* find_material(std::string_view key) {
  const auto table = listed_materials();
  const auto at = std::lower_bound(table.begin(), table.end(), key,
                                   [](const auto& row, auto wanted) { return row.key < wanted; });
  return at != table.end() && at->key == key ? &*at : nullptr;
}

std::vector<const Material*> materials_meant(std::string_view word) {
  const std::string wanted = words_of(word);
  std::vector<const Material*> whole;
  std::vector<const Material*> part;
  if (wanted == " ") return part;
  for (const Material& material : listed_materials()) {
    const std::string key = words_of(material.key);
    const std::string name = words_of(material.name);
    if (key == wanted || name == wanted)
      whole.push_back(&material);
    else if (key.find(wanted) != key.npos || name.find(wanted) != name.npos)
      part.push_back(&material);
  }
  return whole.empty() ? part : whole;
}

std::vector<const Material*> materials_nearly_meant(std::string_view word) {
  std::vector<std::string> words;
  for (const Material& material : listed_materials()) {
    words.push_back(material.key);
    std::istringstream all(words_of(material.key) + words_of(material.name));
    for (std::string one; all >> one;) words.push_back(one);
  }
  return materials_meant(nearest_word(word, words));
}

}  // namespace haftwright
