// Handle materials: density with its source, what to watch out for, and a colour to draw it with.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace haftwright {

enum class MaterialKind { wood, laminate, metal, plastic, natural, sheet };

/// Hazards a caution is shown for; a material may have several.
enum Hazard : unsigned {
  no_hazard = 0,
  wood_dust = 1u << 0,
  sensitising_wood = 1u << 1,  ///< reported skin or airway sensitiser or irritant
  fibre_dust = 1u << 2,        ///< glass or carbon laminate
  resin_dust = 1u << 3,        ///< phenolic, stabilised wood, cured resin
  mineral_dust = 1u << 4,      ///< bone, shell, horn, antler
  trade_controlled = 1u << 5,  ///< check trade controls before buying or shipping
  oily_wood = 1u << 6,         ///< degrease before gluing
};

struct Colour {
  float red = 0.6f, green = 0.6f, blue = 0.6f;  ///< sRGB, 0 to 1
  bool operator==(const Colour&) const = default;
};

struct Material {
  std::string key;   ///< what a project file says: "black_walnut", "brass_c36000"
  std::string name;  ///< "black walnut"
  MaterialKind kind = MaterialKind::wood;
  double density_kg_m3 = 0;
  std::string density_source;
  unsigned hazards = no_hazard;
  Colour colour;
  bool operator==(const Material&) const = default;
};

/// The built-in table, sorted by key.
std::span<const Material> listed_materials();
const Material* find_material(std::string_view key);

/// The listed materials that a plain word may stand for: those of that key or name, else those that have it
/// among the words of their key or name ("walnut", "hard maple"). Case, hyphens and underscores do not
/// matter.
std::vector<const Material*> materials_meant(std::string_view word);

/// The same for a misspelt word: those that the nearest word of all keys and names stands for; none when none
/// is near. Never taken for what was written, only offered.
std::vector<const Material*> materials_nearly_meant(std::string_view word);

/// The candidate nearest in spelling to `word` (edit distance), for error messages; empty when none is near.
std::string nearest_word(std::string_view word, std::span<const std::string> candidates);

}  // namespace haftwright
