#include "haftwright/checks/checks.hpp"

#include "kinds.hpp"

namespace haftwright {
namespace {

template <void (*Check)(const checks::Report&)>
void run(const Design& design, const Handle& handle, std::vector<Finding>& findings) {
  Check({design, handle, findings});
}

constexpr CheckKind kKinds[] = {
    {"align.count", "as many joints on both sides", run<checks::check_align_count>},
    {"align.spine", "joint lines meet across the spine", run<checks::check_align_spine>},
    {"align.belly", "joint lines meet across the belly", run<checks::check_align_belly>},
    {"align.angle", "joint lines run in the same direction", run<checks::check_align_angle>},
    {"align.front", "front faces meet across the tang", run<checks::check_align_front>},
    {"joint.walk", "how far a raked joint walks in shaping", run<checks::check_joint_walk>},
    {"thickness.agree", "both sides equally thick", run<checks::check_thickness_agree>},
    {"hole.edge", "hole to finished edge", run<checks::check_hole_edge>},
    {"hole.land", "hole to round-over", run<checks::check_hole_land>},
    {"hole.tang_edge", "hole to the tang's edge", run<checks::check_hole_tang_edge>},
    {"hole.joint", "hole to joint line", run<checks::check_hole_joint>},
    {"hole.end", "hole to front face and butt", run<checks::check_hole_end>},
    {"hole.spacing", "hole to hole", run<checks::check_hole_spacing>},
    {"hole.cutout", "hole to cutouts and other holes of the tang", run<checks::check_hole_cutout>},
    {"pin.fit", "pin in its hole", run<checks::check_pin_fit>},
    {"piece.held", "every piece held by a pin", run<checks::check_piece_held>},
    {"blank.thickness", "blank thick enough", run<checks::check_blank_thickness>},
    {"blank.width", "blank wide enough", run<checks::check_blank_width>},
    {"blank.length", "blank long enough", run<checks::check_blank_length>},
    {"stack.wood", "wood left over the liners", run<checks::check_stack_wood>},
    {"stack.liners", "liners of both sides equally thick", run<checks::check_stack_liners>},
    {"stack.spacers", "spacer strips against the pieces beside them", run<checks::check_stack_spacers>},
    {"glue.ratio", "epoxy weighed in its ratio", run<checks::check_glue_ratio>},
};

}  // namespace

std::span<const CheckKind> check_kinds() {
  return kKinds;
}

std::vector<Finding> run_checks(const Design& design, const Handle& handle) {
  std::vector<Finding> findings;
  for (const CheckKind& kind : kKinds) kind.run(design, handle, findings);
  return findings;
}

}  // namespace haftwright
