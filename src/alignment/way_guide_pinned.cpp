// Through the guide, then onto pins that are fixed in the tang.
#include "drilling_method.hpp"

namespace haftwright::alignment {

const DrillingMethod kGuidePinned{
    .row = {.way = DrillWay::guide_pinned,
            .key = "guide_pinned",
            .how = "Drilled through the guide; the pins are fixed in the tang while both scales hold them, "
                   "and each "
                   "scale is then glued onto them.",
            .shared = "where the guide's bores, fences and windows are, and where the pins stand in the tang",
            .through_guide = true},
    .problem = no_problem,
    .set = set_on_guide,
    .drill_scales = drill_through_guide,
    .drill_tang = drill_tang_through_guide,
    .pins_are_fixed = true};

}  // namespace haftwright::alignment
