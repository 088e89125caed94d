// The fields of what project and shop file both hold: adhesive, drill guides, rules, how this maker drills.
// schema.hpp says how such lists are read.
#pragma once

#include <concepts>
#include <type_traits>

#include "haftwright/design/design.hpp"
#include "haftwright/design/quantities.hpp"

namespace haftwright {

/// T or const T, so that one list of fields serves reading and writing.
template <class Given, class T>
concept Like = std::same_as<std::remove_const_t<Given>, T>;

template <class V, Like<Adhesive> T>
void visit_fields(V& v, T& glue) {
  using namespace schema;
  v.number("bond_line_mm", kBondLine, Need::defaulted, glue.bond_line_mm, "thickness of the glue film");
  v.number("resin_parts", kParts, Need::defaulted, glue.resin_parts, "resin in the mix ratio");
  v.number("hardener_parts", kParts, Need::defaulted, glue.hardener_parts, "hardener in the mix ratio");
  v.choice("mix_by", kMixNames, glue.mix_by, "what the ratio is given by");
  v.number("resin_density_g_ml", kGlueDensity, Need::defaulted, glue.resin_density_g_ml,
           "of the resin alone");
  v.number("hardener_density_g_ml", kGlueDensity, Need::defaulted, glue.hardener_density_g_ml,
           "of the hardener alone");
  v.number("squeeze_out_factor", kSqueezeOut, Need::defaulted, glue.squeeze_out_factor,
           "extra, as a share of the net volume");
  v.number("cup_loss_ml", kCupLoss, Need::defaulted, glue.cup_loss_ml,
           "what stays in the cup and on the stick");
  v.number("scale_step_g", kScaleStep, Need::defaulted, glue.scale_step_g,
           "smallest step the shop scale shows");
  v.number("least_batch_g", kBatch, Need::defaulted, glue.least_batch_g,
           "smallest batch that can be metered reliably");
}

/// The part of `value` that is a Base, const where that is.
template <class Base, class T>
auto& part_of(T& value) {
  if constexpr (std::is_const_v<T>)
    return static_cast<const Base&>(value);
  else
    return static_cast<Base&>(value);
}

template <class V, Like<GuideHabits> T>
void visit_fields(V& v, T& guide) {
  using namespace schema;
  v.flag(
      "wedged", guide.wedged,
      "the plate follows the tang's taper, so that holes come out square to the mid-plane; false: parallel "
      "faces");
  v.number("margin_mm", Quantity{"mm", 2, 100}, Need::defaulted, guide.margin_mm, "plate round the handle");
  v.number("bushing_outside_mm", Quantity{"mm", 1, 60}, guide.bushing_outside_mm,
           "outside diameter of drill bushings; left out: plain bores");
  v.number("guide_clearance_mm", Quantity{"mm", 0, 2}, Need::defaulted, guide.guide_clearance_mm,
           "plain bore over drill, or bushing hole over bushing");
  v.number("fence_diameter_mm", Quantity{"mm", 1, 50}, Need::defaulted, guide.fence_diameter_mm,
           "of the round fences along the spine, or the belly where that runs straighter");
  v.number("stop_pin_mm", Quantity{"mm", 1, 30}, Need::defaulted, guide.stop_pin_mm,
           "diameter of the loose stop pins");
  v.number("window_length_mm", Quantity{"mm", 1, 100}, Need::defaulted, guide.window_length_mm,
           "of a sight window, along its joint line");
  v.number("window_width_mm", Quantity{"mm", 1, 100}, Need::defaulted, guide.window_width_mm,
           "of a sight window, across its joint line");
  v.number("least_wall_mm", Quantity{"mm", 0, 20}, Need::defaulted, guide.least_wall_mm,
           "plate left between bores, windows and edges, at least");
}

template <class V, Like<ShopRules> T>
void visit_fields(V& v, T& rules) {
  for (const RuleRow& row : rule_rows())
    v.number(row.key, schema::Quantity{row.unit, row.least, row.most}, schema::Need::defaulted,
             rules.*row.member, row.what);
}

template <class V, Like<ShopErrors> T>
void visit_fields(V& v, T& errors) {
  for (const ErrorRow& row : error_rows())
    v.number(row.key, schema::Quantity{row.unit, 0, row.most}, schema::Need::defaulted, errors.*row.member,
             row.what);
}

template <class V, Like<DrillingHabits> T>
void visit_fields(V& v, T& drilling) {
  using namespace schema;
  v.choice("way", kWayNames, drilling.way, "how the holes of both scales come to agree");
  v.choice("set_by", kSetByNames, drilling.set_by, "what the eye lines up at the spine, where no guide does");
  v.flag("fronts_together", drilling.fronts_together,
         "both front faces are shaped together, with the scales pinned to each other");
  v.choice("glue_up", kGlueUpNames, drilling.glue_up,
           "where in the pins' clearance a scale ends up when it is glued on");
  v.section("errors", Need::defaulted, drilling.errors, "how large each error is in this shop");
}

}  // namespace haftwright
