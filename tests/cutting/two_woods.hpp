// A handle of two woods, and bins that hold too little for it.
#pragma once

#include <catch2/catch.hpp>

#include "haftwright/cutting/plan.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/designs.hpp"

namespace haftwright::test {

/// Ample wood for the rear pieces, and for the front pieces one offcut of this size and thickness.
inline Bin bin_with(const Design& design, FlatSize front, double thickness_mm, double grain_deg = 0) {
  Bin bin;
  bin.offcuts.push_back({"ample", "", design.left.pieces[1].material, rectangle({400, 120}), 30});
  bin.offcuts.push_back({"front", "", design.left.pieces[0].material, rectangle(front), thickness_mm});
  bin.offcuts.back().grain.along_deg = grain_deg;
  return bin;
}

inline Design two_woods() {
  Design design = starter();
  design.left.pieces[0].material = "olive";
  design.left.pieces[1].material = "black_walnut";
  REQUIRE(validate(design).empty());
  return design;
}

inline std::size_t without(const Design& design, const Bin& bin) {
  return plan_cutting(design, lay_out(design), bin, {}).plans.front().pieces_without.size();
}

}  // namespace haftwright::test
