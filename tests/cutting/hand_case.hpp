// A design over a bin, planned with blanks that lie where the maker put them.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "bin_for.hpp"
#include "haftwright/cutting/by_hand.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "judge.hpp"
#include "support/designs.hpp"
#include "support/random_design.hpp"

namespace haftwright::test {

inline const nesting::Running kQuiet{.threads = 1};

inline Design without_places(Design design) {
  design.hand_places.clear();
  return design;
}

struct Case {
  Design design;
  Needs needs;
  Bin bin;
  CuttingWishes wishes{.plans = 2, .blanks_too = true};

  explicit Case(Design made) : design(std::move(made)), needs(needs_of(design, lay_out(design))) {}
  Case(std::uint64_t seed, std::uint64_t bin_seed) : Case(without_places(random_design(seed))) {
    Random random(bin_seed);
    bin = bin_for(design, needs, random);
  }
  CuttingPlans plan() const { return plan_cutting(design, lay_out(design), bin, wishes, kQuiet); }
};

struct Found {
  const BoardUse* use = nullptr;
  const PlacedBlank* blank = nullptr;
};
inline Found find(const CuttingPlan& plan, std::size_t need) {
  for (const BoardUse& use : plan.offcuts)
    for (const PlacedBlank& blank : use.blanks)
      if (blank.need == need) return {&use, &blank};
  return {};
}

inline std::size_t need_of(const Needs& needs, const Design& design, const HandPlace& place) {
  for (std::size_t i = 0; i < needs.pieces.size(); ++i)
    if (needs.pieces[i].side == place.side &&
        design.pieces(place.side)[needs.pieces[i].piece].id == place.piece)
      return i;
  return needs.pieces.size();
}

/// Just where it was put.
inline void check_there(const Case& c, const CuttingPlan& plan, const HandPlace& place) {
  const auto [use, blank] = find(plan, need_of(c.needs, c.design, place));
  REQUIRE(blank);
  CHECK(blank->by_hand);
  CHECK(c.bin.offcuts[use->index].id == place.offcut);
  CHECK(use->copy + 1 == static_cast<std::size_t>(place.copy));
  CHECK(glm::distance(blank->at_mm, place.at_mm) < 1e-3);  // they lie on whole micrometres
  CHECK(blank->turn_deg == place.turn_deg);
  CHECK(blank->lower_face == (place.face == Face::lower));
  CHECK((blank->pairing == Pairing::book) == (place.cut == HandCut::book));
  CHECK((blank->pairing == Pairing::slices) == (place.cut == HandCut::slices));
  CHECK(use->with_slice.has_value() == (place.cut == HandCut::slices));
}

/// A left and a right side of one wood each, one piece a side.
inline Design plain() {
  Design design = starter();
  design.left.pieces.resize(1);
  design.left.joints.clear();
  design.left.pieces[0].blank.length_mm.reset();
  design.left.pieces[0].blank.width_mm.reset();
  return design;
}

inline Offcut board(const Design& design, const std::string& id, double length, double width,
                    double thickness) {
  Offcut offcut{id, "", design.left.pieces[0].material, rectangle({length, width}), thickness};
  return offcut;
}

}  // namespace haftwright::test
