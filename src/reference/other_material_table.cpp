#include "material_tables.hpp"

namespace haftwright::reference {
namespace {

constexpr auto metal = MaterialKind::metal;
constexpr auto laminate = MaterialKind::laminate;
constexpr auto plastic = MaterialKind::plastic;
constexpr auto natural = MaterialKind::natural;
constexpr auto sheet = MaterialKind::sheet;

constexpr std::string_view kMetals = "metal density tables, secondary copies";
constexpr std::string_view kMemory = "memory, not verified: general tables";
constexpr std::string_view kPhenolic = "NEMA LI 1 laminate grade charts, secondary copies";

constexpr unsigned none = no_hazard;
constexpr unsigned glass = fibre_dust | resin_dust;

// clang-format off
constexpr OtherRow kOthers[] = {
    {"acrylic", "acrylic", plastic, 1190, "cast PMMA data sheets, secondary copy", none, 0xE4E4E0},
    {"aluminium", "aluminium", metal, 2712, kMetals, none, 0xC4C7CA},
    {"aluminium_6061", "aluminium 6061", metal, 2710, "metal density tables, 2,700 to 2,720, midpoint", none, 0xC1C4C8},
    {"antler", "antler", natural, 1750, kMemory, mineral_dust, 0xC9B79A},
    {"bone", "bone", natural, 1850, "compact bone, after Hubbell, NSRDS-NBS 29 (1969); secondary copy, range 1,700 to 2,000", mineral_dust, 0xE8DFC8},
    {"brass_60_40", "brass 60/40", metal, 8520, kMetals, none, 0xC2A24E},
    {"brass_c26000", "brass C26000 (70/30)", metal, 8530, "ASTM B36 alloy data sheet, 0.308 lb/in3; secondary copy", none, 0xC9A853},
    {"brass_c36000", "brass C36000 (free-cutting)", metal, 8498, "alloy data sheet C36000, 0.307 lb/in3; secondary copy", none, 0xC6A550},
    {"canvas_phenolic", "canvas phenolic", laminate, 1350, kPhenolic, resin_dust, 0x6B5232},
    {"carbon_fibre", "carbon fibre laminate", laminate, 1550, kMemory, glass, 0x24262A},
    {"carbon_steel", "carbon steel", metal, 7850, kMetals, none, 0x8E9398},
    {"cast_epoxy", "cast epoxy", plastic, 1300, "general epoxy data, cured; secondary copy", resin_dust, 0xB9B48A},
    {"copper", "copper", metal, 8935, "metal density tables, 8,930 and 8,940, midpoint", none, 0xB36B43},
    {"fr4", "glass epoxy FR-4", laminate, 1820, "NEMA LI 1 laminate grade charts, secondary copies that differ by 3 %", glass, 0x8E9A63},
    {"g10", "glass epoxy G10", laminate, 1800, kPhenolic, glass, 0x3C4A4A},
    {"horn", "horn", natural, 1300, kMemory, mineral_dust, 0x4A3E34},
    {"linen_phenolic", "linen phenolic", laminate, 1340, kPhenolic, resin_dust, 0x7A5E3A},
    {"nickel_silver_c75200", "nickel silver C75200", metal, 8730, kMemory, none, 0xB9B6A8},
    {"paper_phenolic", "paper phenolic", laminate, 1340, kPhenolic, resin_dust, 0x5E3B26},
    {"phosphor_bronze", "phosphor bronze", metal, 8850, "metal density tables, 8,780 to 8,920, midpoint", none, 0xA87B4A},
    {"silver", "silver", metal, 10490, kMetals, none, 0xD5D6D8},
    {"stabilised_wood", "stabilised wood", natural, 1050, "memory, not verified: trade practice, 900 to 1,250; weigh the piece", wood_dust | resin_dust, 0x8A6A4A},
    {"stainless_304", "stainless steel 304", metal, 8000, kMemory, none, 0xA6A9AC},
    {"stainless_410", "stainless steel 410", metal, 7640, "alloy data sheet 410, secondary copy", none, 0x9FA3A6},
    {"stainless_420", "stainless steel 420", metal, 7700, "alloy data sheet 420, hardened; secondary copy", none, 0x9DA1A5},
    {"stainless_440c", "stainless steel 440C", metal, 7680, "alloy data sheets 440C, 7,650 and 7,700, midpoint; secondary copies", none, 0x9CA0A4},
    {"titanium", "titanium, commercially pure", metal, 4500, kMetals, none, 0x8F8D8A},
    {"titanium_6al_4v", "titanium Ti-6Al-4V", metal, 4430, kMemory, none, 0x898886},
    {"tool_steel", "high-carbon tool steel", metal, 7800, kMetals, none, 0x888D92},
    {"vulcanized_fibre", "vulcanized fibre", sheet, 1250, kMemory, none, 0x7D2A22},
};
// clang-format on

}  // namespace

std::span<const OtherRow> other_material_table() {
  return kOthers;
}

}  // namespace haftwright::reference
