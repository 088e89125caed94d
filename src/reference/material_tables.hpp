// The listed materials as published, one row a material. materials.cpp turns the rows into Materials.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "haftwright/reference/materials.hpp"

namespace haftwright::reference {

/// What a wood's density rests on.
enum class WoodBasis {
  gravity_at_12,  ///< ovendry mass over volume at 12 % moisture; density 1000 G x 1.12
  gravity_basic,  ///< ovendry mass over green volume; G at 12 % = Gb / (1 - 0.6 S_V / 100), then as above
  weighed,        ///< kg/m3 as printed, dry
};

struct WoodRow {
  std::string_view key;
  std::string_view name;
  WoodBasis basis;
  double figure;         ///< specific gravity, or kg/m3 when weighed
  double shrinkage_pct;  ///< S_V, green to ovendry, per cent of volume; gravity_basic only
  std::string_view source;
  unsigned hazards;      ///< besides wood dust, which every wood has
  std::uint32_t colour;  ///< 0xRRGGBB, ours
};
std::span<const WoodRow> wood_table();

struct OtherRow {
  std::string_view key;
  std::string_view name;
  MaterialKind kind;
  double density_kg_m3;
  std::string_view source;
  unsigned hazards;
  std::uint32_t colour;  ///< 0xRRGGBB, ours
};
std::span<const OtherRow> other_material_table();

}  // namespace haftwright::reference
