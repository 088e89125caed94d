// Both scales as one, taped inner face to inner face.
#include "drilling_method.hpp"

namespace haftwright::alignment {
namespace {

BothSettings set(Variables& variables, const SettingInput& input) {
  return set_by_eye(variables, input, std::nullopt,
                    {&ShopErrors::tape_along_mm, &ShopErrors::tape_turn_deg, Sharing::once});
}

/// One straight hole, drilled where the inner faces meet; they come to stand a tang apart.
void drill_scales(HoleDriller& drilling, std::size_t, Axis& left, Axis& right) {
  const Pair through_both = drilling.free_lean(Sharing::once);
  for (Axis* axis : {&left, &right}) axis->slope = {through_both, drilling.wander(Sharing::each_side)};
}

}  // namespace

const DrillingMethod kTaped{
    .row = {.way = DrillWay::taped,
            .key = "taped",
            .how = "The scales are taped inner face to inner face, line to line, and drilled in one go.",
            .shared = "where the holes are"},
    .problem = no_problem,
    .set = set,
    .drill_scales = drill_scales,
    .drill_tang = [](HoleDriller& drilling, std::size_t, Axis& tang) { drilling.place_tang(tang); }};

}  // namespace haftwright::alignment
