// The second scale against the first, and through it.
#include "drilling_method.hpp"

namespace haftwright::alignment {
namespace {

BothSettings set(Variables& variables, const SettingInput& input) {
  return set_by_eye(variables, input, std::nullopt,
                    {&ShopErrors::match_along_mm, &ShopErrors::match_turn_deg, Sharing::once});
}

/// The second hole goes on straight where the first one leads, but for its own room, lean and wander.
void drill_scales(HoleDriller& drilling, std::size_t pin, Axis& left, Axis& right) {
  drilling.drill(left, drilling.through_tang(pin), Sharing::both);
  right.place = left.at(right.from_mm);
  right.slope = left.slope;
  drilling.drill(right, drilling.through_first(pin), Sharing::once);
}

}  // namespace

const DrillingMethod kToFirst{
    .row =
        {.way = DrillWay::to_first,
         .key = "to_first",
         .how =
             "The first scale is drilled through the tang and pinned on; the second is lined up with it over "
             "the spine and drilled through it.",
         .shared = "where the tang's holes are, how the first scale sits, and how its holes lean"},
    .problem = drill_passes_tang,
    .set = set,
    .drill_scales = drill_scales,
    .drill_tang = tang_as_it_guided};

}  // namespace haftwright::alignment
