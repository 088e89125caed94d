#include "haftwright/design/shop_rules.hpp"

#include <stdexcept>

namespace haftwright {
namespace {

constexpr std::string_view kPractice = "common practice";

constexpr std::string_view kMixBasis =
    "common practice: general guidance on two-part epoxies finds soft or tacky cure from 2 to 5 % off the "
    "ratio; "
    "the adhesive's own data sheet comes first";

// Why 0.1 mm and not less: two joint lines on opposite faces are never seen in one glance, so resolving two
// separate places is the right measure, not the finer sense for a broken line.
constexpr std::string_view kStepBasis =
    "ordinary visual acuity of 1 arc-minute (encyclopaedia articles on vernier acuity, 2020-2025) is 0.087 "
    "mm "
    "at 300 mm, rounded to 0.1 mm; vernier acuity, the sense for a step in one line, is finer: 2 to 10 "
    "arc-seconds there";

constexpr RuleRow kRows[] = {
    {"edge_wall_diameters", &ShopRules::edge_wall_diameters, 0, 10, "hole diameters",
     "wood between a hole's rim and the finished edge, at least", kPractice},
    {"edge_wall_mm", &ShopRules::edge_wall_mm, 0, 50, "mm",
     "wood between a hole's rim and the finished edge, never less, however thin the pin", kPractice},
    {"surface_land_mm", &ShopRules::surface_land_mm, 0, 20, "mm",
     "flat or crowned surface left between a hole's rim and the start of the round-over, at least",
     kPractice},
    {"tang_wall_diameters", &ShopRules::tang_wall_diameters, 0, 10, "hole diameters",
     "steel between a tang hole's rim and the tang's edge, a cutout or another hole, at least", kPractice},
    {"joint_centre_diameters", &ShopRules::joint_centre_diameters, 0, 20, "hole diameters",
     "from a hole's centre to a joint line or spacer, through the whole thickness, at least", kPractice},
    {"end_centre_diameters", &ShopRules::end_centre_diameters, 0, 20, "hole diameters",
     "from a hole's centre to the front face or the butt, at least", kPractice},
    {"spacing_diameters", &ShopRules::spacing_diameters, 0, 50, "hole diameters",
     "from one hole's centre to the next, at least", kPractice},
    {"pins_per_piece", &ShopRules::pins_per_piece, 0, 20, "pins",
     "pins that go through every piece from face to face, at least; 0 where glue alone may hold one",
     kPractice},
    {"glue_clearance_least_mm", &ShopRules::glue_clearance_least_mm, 0, 2, "mm",
     "hole diameter over pin diameter, at least, so that glue stays round the pin", kPractice},
    {"glue_clearance_most_mm", &ShopRules::glue_clearance_most_mm, 0, 2, "mm",
     "hole diameter over pin diameter, at most, so that the pin still locates", kPractice},
    {"least_wood_mm", &ShopRules::least_wood_mm, 0, 20, "mm",
     "thickness of a piece left at its thinnest place after shaping, at least", kPractice},
    {"blank_thickness_allowance_mm", &ShopRules::blank_thickness_allowance_mm, 0, 20, "mm",
     "how much thicker than the finished piece a blank must be", kPractice},
    {"blank_outline_allowance_mm", &ShopRules::blank_outline_allowance_mm, 0, 20, "mm",
     "how much larger than the finished piece a blank must be, all round", kPractice},
    {"blank_joint_allowance_mm", &ShopRules::blank_joint_allowance_mm, 0, 20, "mm",
     "wood to flatten on each joint face of a blank that is sawn from an offcut", kPractice},
    {"saw_kerf_mm", &ShopRules::saw_kerf_mm, 0, 10, "mm", "width of the saw cut that frees a blank",
     kPractice},
    {"offcut_rim_mm", &ShopRules::offcut_rim_mm, 0, 50, "mm",
     "strip along an offcut's rim that no blank reaches into", kPractice},
    {"defect_margin_mm", &ShopRules::defect_margin_mm, 0, 50, "mm",
     "sound wood between a blank and a knot, check or hole, at least", kPractice},
    {"grain_off_deg", &ShopRules::grain_off_deg, 0, 45, "deg",
     "how far the fibre of an offcut may run off the piece's grain, at most", kPractice},
    {"leftover_length_mm", &ShopRules::leftover_length_mm, 0, 1000, "mm",
     "length along the grain from which what is left of an offcut is kept", kPractice},
    {"leftover_width_mm", &ShopRules::leftover_width_mm, 0, 1000, "mm",
     "width across the grain from which what is left of an offcut is kept", kPractice},
    {"joint_step_mm", &ShopRules::joint_step_mm, 0, 5, "mm",
     "how far the left and the right joint line may miss each other, at most", kStepBasis},
    {"joint_angle_deg", &ShopRules::joint_angle_deg, 0, 45, "deg",
     "how far the left and the right joint line may differ in direction, at most", kPractice},
    {"step_shows_share", &ShopRules::step_shows_share, 0, 1, "share",
     "handles made this way that may show a step or an angle between left and right somewhere, at most",
     kPractice},
    {"pins_bind_share", &ShopRules::pins_bind_share, 0, 1, "share",
     "handles made this way whose pins may bind in their holes, at most", kPractice},
    {"thickness_agreement_mm", &ShopRules::thickness_agreement_mm, 0, 10, "mm",
     "how far the thickness of the two sides may differ, at most", kPractice},
    {"mix_near_share", &ShopRules::mix_near_share, 0, 1, "share",
     "how far whole steps of the scale may move the epoxy's ratio before it is called near", kMixBasis},
    {"mix_error_share", &ShopRules::mix_error_share, 0, 1, "share",
     "how far whole steps of the scale may move the epoxy's ratio, at most", kMixBasis},
    {"mix_extra_share", &ShopRules::mix_extra_share, 0, 1, "share",
     "how much more epoxy than needed may be mixed to meet the ratio better", kPractice},
    {"near_share", &ShopRules::near_share, 0, 1, "share",
     "a value this close to its limit, as a share of the limit, is called near", kPractice},
};

}  // namespace

std::span<const RuleRow> rule_rows() {
  return kRows;
}

const RuleRow& rule_row(double ShopRules::*member) {
  for (const RuleRow& row : kRows)
    if (row.member == member) return row;
  throw std::logic_error("a shop rule has no row in the table");
}

}  // namespace haftwright
