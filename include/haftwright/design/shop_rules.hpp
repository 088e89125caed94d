// The shop's own limits: every limit a check uses, with its default and what it rests on.
#pragma once

#include <span>
#include <string_view>

namespace haftwright {

/// Wall: from the hole's rim. "Diameters" are hole diameters, so that one rule serves every pin.
struct ShopRules {
  double edge_wall_diameters = 1.0;
  double edge_wall_mm = 2.0;
  double surface_land_mm = 0.5;
  double tang_wall_diameters = 1.0;
  double joint_centre_diameters = 2.0;
  double end_centre_diameters = 2.5;
  double spacing_diameters = 4.0;
  double pins_per_piece = 1;
  double glue_clearance_least_mm = 0.05;
  double glue_clearance_most_mm = 0.15;
  double least_wood_mm = 1.5;
  double blank_thickness_allowance_mm = 0.5;
  double blank_outline_allowance_mm = 1.0;
  double blank_joint_allowance_mm = 0.5;
  double saw_kerf_mm = 1.5;
  double offcut_rim_mm = 1.0;
  double defect_margin_mm = 2.0;
  double grain_off_deg = 8.0;
  double leftover_length_mm = 60;
  double leftover_width_mm = 25;
  double joint_step_mm = 0.1;
  double joint_angle_deg = 0.5;
  double step_shows_share = 0.25;
  double pins_bind_share = 0.05;
  double thickness_agreement_mm = 0.2;
  double mix_near_share = 0.02;
  double mix_error_share = 0.05;
  double mix_extra_share = 0.1;
  double near_share = 0.2;
  bool operator==(const ShopRules&) const = default;
};

/// One row for each rule: its key in a project file, range, unit and basis.
struct RuleRow {
  std::string_view key;
  double ShopRules::*member;
  double least;
  double most;
  std::string_view unit;   ///< "mm", "deg", "hole diameters", "share", "pins"
  std::string_view what;   ///< plain words
  std::string_view basis;  ///< "common practice", or title, edition and table
};
std::span<const RuleRow> rule_rows();
const RuleRow& rule_row(double ShopRules::*member);

}  // namespace haftwright
