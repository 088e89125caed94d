// The kinds of checks, one function each; checks.cpp holds the table.
#pragma once

#include "report.hpp"

namespace haftwright::checks {

void check_hole_edge(const Report& report);
void check_hole_land(const Report& report);
void check_hole_tang_edge(const Report& report);
void check_hole_joint(const Report& report);
void check_hole_spacing(const Report& report);
void check_hole_end(const Report& report);
void check_hole_cutout(const Report& report);
void check_pin_fit(const Report& report);
void check_piece_held(const Report& report);
void check_blank_thickness(const Report& report);
void check_blank_width(const Report& report);
void check_blank_length(const Report& report);
void check_stack_wood(const Report& report);
void check_stack_liners(const Report& report);
void check_stack_spacers(const Report& report);
void check_glue_ratio(const Report& report);
void check_thickness_agree(const Report& report);
void check_align_count(const Report& report);
void check_align_spine(const Report& report);
void check_align_belly(const Report& report);
void check_align_angle(const Report& report);
void check_align_front(const Report& report);
void check_joint_walk(const Report& report);

}  // namespace haftwright::checks
