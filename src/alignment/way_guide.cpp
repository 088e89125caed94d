// Each scale on the guide's fences and at its windows, through the same bores.
#include "drilling_method.hpp"

namespace haftwright::alignment {

void drill_through_guide(HoleDriller& drilling, std::size_t pin, Axis& left, Axis& right) {
  for (Axis* axis : {&left, &right}) drilling.drill(*axis, drilling.through_guide(pin), Sharing::each_side);
}

void drill_tang_through_guide(HoleDriller& drilling, std::size_t pin, Axis& tang) {
  if (drilling.tang_has_hole(pin))
    drilling.place_tang(tang);
  else
    drilling.drill_tang(tang, drilling.through_guide(pin));
}

const DrillingMethod kGuide{
    .row =
        {.way = DrillWay::guide,
         .key = "guide",
         .how =
             "Each scale sits on the guide's fences with its joint lines at the sight windows and is drilled "
             "through the same bores.",
         .shared = "where the guide's bores, fences and windows are, and how its bores lean",
         .through_guide = true},
    .problem = no_problem,
    .set = set_on_guide,
    .drill_scales = drill_through_guide,
    .drill_tang = drill_tang_through_guide};

}  // namespace haftwright::alignment
