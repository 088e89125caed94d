#include "haftwright/design/drilling.hpp"

#include <stdexcept>

namespace haftwright {
namespace {

constexpr std::string_view kPractice = "common practice";

constexpr ErrorRow kRows[] = {
    {"joint_place_mm", &ShopErrors::joint_place_mm, 10, "mm",
     "a joint's place on its built-up blank, from the joint ahead of it or the front: lengths of pieces add "
     "up",
     kPractice},
    {"joint_square_deg", &ShopErrors::joint_square_deg, 10, "deg",
     "a joint's slant on its blank, seen from the side", kPractice},
    {"joint_rake_deg", &ShopErrors::joint_rake_deg, 10, "deg",
     "a joint's rake on its blank, through the thickness", kPractice},
    {"strip_thickness_mm", &ShopErrors::strip_thickness_mm, 5, "mm", "a spacer strip's thickness", kPractice},
    {"glue_film_mm", &ShopErrors::glue_film_mm, 2, "mm", "the glue film at each face inside a joint",
     kPractice},
    {"front_place_mm", &ShopErrors::front_place_mm, 10, "mm", "the front face's place on its blank",
     kPractice},
    {"set_along_mm", &ShopErrors::set_along_mm, 10, "mm",
     "a scale clamped on the tang by eye, along the handle", kPractice},
    {"set_across_mm", &ShopErrors::set_across_mm, 10, "mm", "a scale set by eye, across the handle",
     kPractice},
    {"set_turn_deg", &ShopErrors::set_turn_deg, 10, "deg", "a scale clamped on the tang by eye, turned",
     kPractice},
    {"match_along_mm", &ShopErrors::match_along_mm, 10, "mm",
     "the second scale's line set against the first's, over the thickness of the tang", kPractice},
    {"match_turn_deg", &ShopErrors::match_turn_deg, 10, "deg",
     "the second scale set against the first, turned", kPractice},
    {"tape_along_mm", &ShopErrors::tape_along_mm, 10, "mm",
     "line against line when both scales are taped together", kPractice},
    {"tape_turn_deg", &ShopErrors::tape_turn_deg, 10, "deg", "scales taped together, turned", kPractice},
    {"sight_mm", &ShopErrors::sight_mm, 10, "mm", "a joint line set to the edge of a sight window",
     kPractice},
    {"fence_seat_mm", &ShopErrors::fence_seat_mm, 10, "mm",
     "a blank's seat on each fence: chips, flatness of its edge", kPractice},
    {"drill_play_mm", &ShopErrors::drill_play_mm, 5, "mm",
     "room of a drill in the hole that guides it, when that hole was made by the same drill", kPractice},
    {"drill_lean_deg", &ShopErrors::drill_lean_deg, 15, "deg",
     "lean of a drill that nothing guides, or less where something does", kPractice},
    {"drill_wander_deg", &ShopErrors::drill_wander_deg, 15, "deg",
     "wander of a drill in the wood, beside its lean: grain, a dull or bending drill", kPractice},
    {"tang_hole_place_mm", &ShopErrors::tang_hole_place_mm, 10, "mm",
     "a tang hole's place, where it was not drilled with the scales", kPractice},
    {"hole_size_mm", &ShopErrors::hole_size_mm, 2, "mm", "a hole's diameter, where it was measured or typed",
     kPractice},
    {"pin_size_mm", &ShopErrors::pin_size_mm, 2, "mm", "pin stock's diameter", kPractice},
    {"thickness_mm", &ShopErrors::thickness_mm, 10, "mm", "thickness taken off each side in shaping",
     kPractice},
};

}  // namespace

std::span<const ErrorRow> error_rows() {
  return kRows;
}

const ErrorRow& error_row(double ShopErrors::*member) {
  for (const ErrorRow& row : kRows)
    if (row.member == member) return row;
  throw std::logic_error("a shop error has no row in the table");
}

}  // namespace haftwright
