// Each scale on its own, through the tang.
#include "drilling_method.hpp"

namespace haftwright::alignment {
namespace {

BothSettings set(Variables& variables, const SettingInput& input) {
  const ByEye on_tang{&ShopErrors::set_along_mm, &ShopErrors::set_turn_deg, Sharing::each_side};
  return set_by_eye(variables, input, on_tang, on_tang);
}

void drill_scales(HoleDriller& drilling, std::size_t pin, Axis& left, Axis& right) {
  for (Axis* axis : {&left, &right}) drilling.drill(*axis, drilling.through_tang(pin), Sharing::each_side);
}

}  // namespace

const DrillingMethod kByEye{
    .row = {.way = DrillWay::by_eye,
            .key = "by_eye",
            .how = "Each scale is clamped to the tang by eye and drilled through the tang's holes.",
            .shared = "where the tang's holes are"},
    .problem = drill_passes_tang,
    .set = set,
    .drill_scales = drill_scales,
    .drill_tang = tang_as_it_guided};

}  // namespace haftwright::alignment
