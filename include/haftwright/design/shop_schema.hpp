// The fields of a shop file, as schema.hpp has those of a project. What both hold is in shared_schema.hpp.
#pragma once

#include "haftwright/design/limits.hpp"
#include "haftwright/design/shared_schema.hpp"
#include "haftwright/design/shop.hpp"

namespace haftwright {

template <class V, Like<OwnedDrill> T>
void visit_fields(V& v, T& owned) {
  using namespace schema;
  v.text("drill", Need::required, owned.drill, "label of a listed drill or reamer");
  v.number("diameter_mm", kHoleDiameter, owned.diameter_mm,
           "of the hole that it was measured to make; left out: not measured");
  v.material("measured_in", Need::defaulted, owned.measured_in,
             "what that hole was in; left out: taken for holes in anything");
}

template <class V, Like<Shop> T>
void visit_fields(V& v, T& shop) {
  using namespace schema;
  v.list("drills", Count{0, limits::kOwnedDrills}, Need::defaulted, shop.drills,
         "drills and reamers that the shop owns");
  v.section("adhesive", Need::defaulted, shop.adhesive, "the two-part epoxy");
  v.section("guide", Need::defaulted, shop.guide, "what all drill guides have in common");
  v.section("rules", Need::defaulted, shop.rules, "the shop's own limits");
  v.section("drilling", Need::defaulted, shop.drilling, "how this maker drills");
}

}  // namespace haftwright
