#include "material_tables.hpp"

namespace haftwright::reference {
namespace {

constexpr auto at_12 = WoodBasis::gravity_at_12;
constexpr auto basic = WoodBasis::gravity_basic;
constexpr auto weighed = WoodBasis::weighed;

// Density at 12 % moisture follows from specific gravity by the Wood Handbook's formula, FPL-GTR-190 (2010)
// ch. 4.
constexpr std::string_view kDomestic =
    "Wood Handbook, FPL-GTR-190 (2010), Table 5-3, 12 % row; secondary copy";
constexpr std::string_view kDomesticMemory =
    "memory, not verified: Wood Handbook, FPL-GTR-190 (2010), Table 5-3, 12 % row";
constexpr std::string_view kImported =
    "Wood Handbook, FPL-GTR-282 (2021), Table 5-5 and Table 4-4; secondary copy";
constexpr std::string_view kTeak =
    "Wood Handbook, FPL-GTR-282 (2021), Table 5-5; secondary copy. Its volume shrinkage: memory, not "
    "verified";
constexpr std::string_view kIronwood =
    "Hardwoods of North America, FPL-GTR-83 (1995), eastern hophornbeam sheet, at 12 %; secondary copy";
constexpr std::string_view kOsage =
    "Hardwoods of North America, FPL-GTR-83 (1995), Osage-orange sheet, density at 12 %; secondary copy";
constexpr std::string_view kDried = "average dried weight in a general wood reference; secondary copy";
constexpr std::string_view kPadauk =
    "average dried weight in a general wood reference; inside the range of Tropical Timbers of the World, "
    "AH-607 (1984)";
constexpr std::string_view kWenge = kPadauk;
constexpr std::string_view kMemory = "memory, not verified: general wood references";

constexpr unsigned none = no_hazard;
constexpr unsigned irritant = sensitising_wood;
constexpr unsigned oily = oily_wood;
constexpr unsigned traded = trade_controlled;

// clang-format off
constexpr WoodRow kWoods[] = {
    {"african_mahogany", "African mahogany (khaya)", basic, 0.42, 8.8, kImported, traded, 0x9A5B3C},
    {"african_padauk", "African padauk", weighed, 745, 0, kPadauk, irritant | traded, 0xA63E1F},
    {"american_beech", "American beech", at_12, 0.64, 0, kDomestic, none, 0xC9A27C},
    {"american_holly", "American holly", at_12, 0.56, 0, kMemory, none, 0xEDE8DA},
    {"apple", "apple", weighed, 830, 0, kDried, none, 0xB07F5A},
    {"azobe", "azobe (ekki)", basic, 0.87, 17.0, kImported, none, 0x5E3328},
    {"bigleaf_maple", "bigleaf maple", at_12, 0.48, 0, kDomestic, none, 0xDCC3A0},
    {"black_ash", "black ash", at_12, 0.49, 0, kDomestic, none, 0xB99B78},
    {"black_cherry", "black cherry", at_12, 0.50, 0, kDomestic, none, 0xA8653F},
    {"black_locust", "black locust", at_12, 0.69, 0, kDomestic, none, 0xB0924F},
    {"black_maple", "black maple", at_12, 0.57, 0, kDomestic, none, 0xDCC4A3},
    {"black_walnut", "black walnut", at_12, 0.55, 0, kDomestic, none, 0x5A3D2B},
    {"brazilian_rosewood", "Brazilian rosewood", basic, 0.80, 8.5, kImported, irritant | oily | traded, 0x4A2A20},
    {"bubinga", "bubinga", weighed, 890, 0, kDried, irritant | traded, 0x8C4632},
    {"butternut", "butternut", at_12, 0.38, 0, kDomestic, none, 0xA98661},
    {"cocobolo", "cocobolo", weighed, 1095, 0, "species sheet, at 12 % moisture; secondary copy", irritant | oily | traded, 0x7A3A22},
    {"degame", "degame", basic, 0.67, 13.2, kImported, none, 0xC9AE84},
    {"european_boxwood", "European boxwood", weighed, 977, 0, kDried, none, 0xD9BE7C},
    {"european_hornbeam", "European hornbeam", weighed, 735, 0, kMemory, none, 0xD8C9AE},
    {"gaboon_ebony", "Gaboon ebony", weighed, 1035, 0, kDried, irritant | oily | traded, 0x231D1C},
    {"goncalo_alves", "goncalo alves", basic, 0.84, 10.0, kImported, oily, 0x9A5E35},
    {"greenheart", "greenheart", basic, 0.80, 17.1, kImported, none, 0x7C7343},
    {"honey_mesquite", "honey mesquite", weighed, 820, 0, kDried, irritant, 0x7D4A30},
    {"honeylocust", "honeylocust", at_12, 0.66, 0, kDomesticMemory, none, 0xB57A50},
    {"indian_rosewood", "Indian rosewood", basic, 0.75, 8.5, kImported, irritant | oily | traded, 0x4B2F31},
    {"ipe", "ipe (lapacho)", basic, 0.92, 13.2, kImported, oily | traded, 0x5C4330},
    {"iroko", "iroko", basic, 0.54, 8.8, kImported, irritant, 0x9C7440},
    {"ironwood", "eastern hophornbeam (ironwood)", at_12, 0.70, 0, kIronwood, none, 0xB99A78},
    {"jatoba", "jatoba (courbaril)", basic, 0.71, 12.7, kImported, none, 0x8B4A30},
    {"lignum_vitae", "lignum vitae", weighed, 1260, 0, kDried, irritant | oily | traded, 0x47452A},
    {"live_oak", "live oak", at_12, 0.88, 0, kDomesticMemory, none, 0x9B7B55},
    {"macawood", "macawood", basic, 0.94, 6.5, kImported, none, 0x86442C},
    {"mockernut_hickory", "mockernut hickory", at_12, 0.72, 0, kDomestic, none, 0xBF9669},
    {"northern_red_oak", "northern red oak", at_12, 0.63, 0, kDomesticMemory, none, 0xB58A62},
    {"olive", "olive", weighed, 990, 0, kDried, irritant | oily, 0xB1885A},
    {"osage_orange", "Osage-orange", weighed, 849, 0, kOsage, irritant, 0xBE8A2B},
    {"paper_birch", "paper birch", at_12, 0.55, 0, kDomestic, none, 0xDBC19B},
    {"pear", "pear", weighed, 690, 0, kDried, none, 0xC08B6B},
    {"pecan_hickory", "pecan hickory", at_12, 0.66, 0, kDomestic, none, 0xBC9166},
    {"persimmon", "common persimmon", at_12, 0.74, 0, kMemory, none, 0xD5C2A2},
    {"pignut_hickory", "pignut hickory", at_12, 0.75, 0, kDomestic, none, 0xBE9467},
    {"purpleheart", "purpleheart", basic, 0.67, 9.9, kImported, none, 0x6B3355},
    {"red_maple", "red maple", at_12, 0.54, 0, kDomestic, none, 0xD8BC98},
    {"rock_elm", "rock elm", at_12, 0.63, 0, kDomestic, none, 0xB08F68},
    {"sapele", "sapele", basic, 0.55, 14.0, kImported, none, 0x7E452C},
    {"shagbark_hickory", "shagbark hickory", at_12, 0.72, 0, kDomestic, none, 0xC29A6E},
    {"silver_maple", "silver maple", at_12, 0.47, 0, kDomesticMemory, none, 0xDAC2A0},
    {"sucupira", "sucupira", basic, 0.78, 11.8, kImported, oily, 0x5F432F},
    {"sugar_maple", "sugar maple (hard maple)", at_12, 0.63, 0, kDomestic, none, 0xE2CBA8},
    {"sweet_birch", "sweet birch", at_12, 0.65, 0, kDomestic, none, 0xC39A73},
    {"teak", "teak", basic, 0.55, 7.0, kTeak, irritant | oily, 0x94693A},
    {"wenge", "wenge (panga panga)", weighed, 910, 0, kWenge, irritant, 0x3B2A22},
    {"white_ash", "white ash", at_12, 0.60, 0, kDomestic, none, 0xD3BC98},
    {"white_oak", "white oak", at_12, 0.68, 0, kDomestic, none, 0xB7935F},
    {"yellow_birch", "yellow birch", at_12, 0.62, 0, kDomestic, none, 0xD0AC80},
};
// clang-format on

}  // namespace

std::span<const WoodRow> wood_table() {
  return kWoods;
}

}  // namespace haftwright::reference
