// The smallest change makes a plan possible, and less of it does not.
#include "haftwright/cutting/why_not.hpp"

#include <catch2/catch.hpp>

#include "haftwright/cutting/take.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "support/designs.hpp"

using namespace haftwright;

namespace {

/// Ample wood for the rear pieces, and for the front pieces one offcut of this size and thickness.
Bin bin_with(const Design& design, FlatSize front, double thickness_mm, double grain_deg = 0) {
  Bin bin;
  bin.offcuts.push_back({"ample", "", design.left.pieces[1].material, rectangle({400, 120}), 30});
  bin.offcuts.push_back({"front", "", design.left.pieces[0].material, rectangle(front), thickness_mm});
  bin.offcuts.back().grain.along_deg = grain_deg;
  return bin;
}

Design two_woods() {
  Design design = test::starter();
  design.left.pieces[0].material = "olive";
  design.left.pieces[1].material = "black_walnut";
  REQUIRE(validate(design).empty());
  return design;
}

std::size_t without(const Design& design, const Bin& bin) {
  return plan_cutting(design, lay_out(design), bin, {}).plans.front().pieces_without.size();
}

}  // namespace

TEST_CASE("every change it offers gives all pieces a place") {
  const Design design = two_woods();
  const Needs needs = needs_of(design, lay_out(design));
  Vec2 low = needs.pieces[0].outline[0], high = low;
  for (const Vec2 p : needs.pieces[0].outline) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
  const Vec2 size = high - low;
  const double rim = 2 * (design.rules.offcut_rim_mm + 0.02);
  const double book = 2 * needs.pieces[0].thickness_mm + design.rules.saw_kerf_mm;
  struct Case {
    const char* what;
    Bin bin;
    const char* words;
  };
  const std::vector<Case> cases = {
      {"too short by 3 mm", bin_with(design, {size.x + rim - 3, size.y + rim}, book + 0.2), "move joint 1 "},
      {"too thin for a book by 1 mm", bin_with(design, {size.x + rim, size.y + rim}, book - 1), " thinner"},
      {"its grain 14 deg off", bin_with(design, {size.x + 40, size.y + rim + 0.5}, book + 0.2, 14),
       "turn the piece's grain"},
  };
  for (const Case& one : cases) {
    INFO(one.what);
    REQUIRE(validate(one.bin).empty());
    const CuttingPlans plans = plan_cutting(design, lay_out(design), one.bin, {});
    REQUIRE_FALSE(plans.plans.front().pieces_without.empty());
    const std::vector<WhyNot> reasons = why_not(design, one.bin, {}, plans);
    REQUIRE(reasons.size() == 1);
    REQUIRE_FALSE(reasons[0].nearest.empty());
    CHECK(one.bin.offcuts[reasons[0].nearest[0].offcut].id == "front");
    REQUIRE_FALSE(reasons[0].changes.empty());
    bool named = false;
    for (const CuttingChange& change : reasons[0].changes) {
      INFO(change.words);
      CHECK(without(change.design, one.bin) == 0);
      named = named || change.words.find(one.words) != std::string::npos;
    }
    CHECK(named);
  }
}

TEST_CASE("two hundredths less than the smallest change is not enough") {
  const Design design = two_woods();
  const Needs needs = needs_of(design, lay_out(design));
  double low = 1e9, high = -1e9, low_y = 1e9, high_y = -1e9;
  for (const Vec2 p : needs.pieces[0].outline) {
    low = std::min(low, p.x);
    high = std::max(high, p.x);
    low_y = std::min(low_y, p.y);
    high_y = std::max(high_y, p.y);
  }
  const double rim = 2 * (design.rules.offcut_rim_mm + 0.02);
  const Bin bin = bin_with(design, {high - low + rim - 3, high_y - low_y + rim},
                           2 * needs.pieces[0].thickness_mm + design.rules.saw_kerf_mm + 0.2);
  const CuttingPlans plans = plan_cutting(design, lay_out(design), bin, {});
  const std::vector<WhyNot> reasons = why_not(design, bin, {}, plans);
  REQUIRE(reasons.size() == 1);
  const auto moved = std::ranges::find_if(
      reasons[0].changes, [](const CuttingChange& change) { return change.words.find("move joint 1") == 0; });
  REQUIRE(moved != reasons[0].changes.end());
  const double before = design.left.joints[0].place_mm;
  const double after = moved->design.left.joints[0].place_mm;
  CHECK(before - after == Approx(moved->amount).margin(1e-9));
  CHECK(moved->amount == Approx(3).margin(0.2));
  Design less = moved->design;
  less.left.joints[0].place_mm = before - 0.98 * moved->amount;
  CHECK(without(less, bin) > 0);
}

TEST_CASE("what is reserved is left to its project, and what is cut comes back as leftovers") {
  const Design design = two_woods();
  const Needs needs = needs_of(design, lay_out(design));
  const Bin bin = bin_with(design, {300, 100}, 2 * needs.pieces[0].thickness_mm + 3);
  const CuttingPlans plans = plan_cutting(design, lay_out(design), bin, {.project = "mine"});
  REQUIRE(plans.plans.front().pieces_without.empty());
  const EditedBin reserved = reserve_as_planned(bin, plans.needs, plans.plans.front(), "mine");
  REQUIRE(reserved);
  CHECK(reserved_by(*reserved, "mine") == 2);
  CHECK(plan_cutting(design, lay_out(design), *reserved, {.project = "mine"})
            .plans.front()
            .pieces_without.empty());
  CHECK(plan_cutting(design, lay_out(design), *reserved, {.project = "another"})
            .plans.front()
            .pieces_without.size() == 4);
  const EditedBin again = reserve_as_planned(*reserved, plans.needs, plans.plans.front(), "mine");
  REQUIRE(again);
  CHECK(*again == *reserved);

  const EditedBin cut = cut_as_planned(*reserved, plans.needs, plans.plans.front(), design.rules, "mine");
  REQUIRE(cut);
  CHECK(validate(*cut).empty());
  CHECK(reserved_by(*cut, "mine") == 0);
  double before = 0, after = 0, blanks = 0;
  for (const Offcut& offcut : bin.offcuts) before += Outline(offcut.outline).area_mm2();
  for (const Offcut& offcut : cut->offcuts) after += Outline(offcut.outline).area_mm2();
  for (const BoardUse& use : plans.plans.front().offcuts)
    for (const PlacedBlank& blank : use.blanks)
      if (blank.half != Half::lower) {
        std::vector<Node> chain;
        for (const Vec2 p : blank.outline) chain.push_back({p, 0});
        blanks += Outline(chain).area_mm2();
      }
  CHECK(after > 0);
  CHECK(after + blanks < before);
  for (const Offcut& offcut : cut->offcuts) CHECK(offcut.id.find("_rest") != std::string::npos);
}
