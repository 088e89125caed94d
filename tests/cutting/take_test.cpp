// What a plan takes, noted in the bin and sawn out of it.
#include "haftwright/cutting/take.hpp"

#include <catch2/catch.hpp>

#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "two_woods.hpp"

using namespace haftwright;
using namespace haftwright::test;

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

TEST_CASE("a project is called by its name, else by its file's") {
  Design design;
  design.name = "Rigging knife";
  CHECK(name_in_bin(design, "/there/mine.json") == "Rigging knife");
  design.name.clear();
  CHECK(name_in_bin(design, "/there/mine.json") == "mine");
  CHECK(name_in_bin(design, "").empty());
}

TEST_CASE("a thicker block gives back the slab under its book") {
  Design design = two_woods();
  design.rules.leftover_length_mm = 20;
  design.rules.leftover_width_mm = 15;
  const Needs needs = needs_of(design, lay_out(design));
  const double half = needs.pieces[0].thickness_mm;
  const double kerf = design.rules.saw_kerf_mm;
  const auto planned = [&](double thickness_mm, bool outside) {
    Bin bin = bin_with(design, {120, 80}, thickness_mm);
    CuttingWishes wishes{.book_shows_outside = outside, .project = "mine"};
    return std::pair(bin, plan_cutting(design, lay_out(design), bin, wishes));
  };
  const auto front = [](const CuttingPlan& plan) {
    return *std::ranges::find(plan.offcuts, std::size_t{1}, &BoardUse::index);
  };
  for (const bool outside : {false, true}) {
    INFO(outside);
    const auto [bin, plans] = planned(3 * half + 2 * kerf + 0.5, outside);
    const CuttingPlan& plan = plans.plans.front();
    REQUIRE(plan.pieces_without.empty());
    const BoardUse use = front(plan);
    REQUIRE(use.blanks.front().pairing == Pairing::book);
    REQUIRE(use.slabs.size() == 1);
    CHECK(use.slabs[0].thickness_mm == Approx(half + 0.5).margin(1e-9));
    CHECK(use.slabs[0].faces == (outside ? no_face : lower_face));
    const EditedBin cut = cut_as_planned(bin, plans.needs, plan, design.rules, "mine");
    REQUIRE(cut);
    CHECK(validate(*cut).empty());
    const auto slab = std::ranges::find_if(cut->offcuts, [&](const Offcut& offcut) {
      return std::abs(offcut.thickness_mm - half - 0.5) < 1e-9;
    });
    REQUIRE(slab != cut->offcuts.end());
    std::vector<Node> chain;
    for (const Vec2 p : use.blanks.front().outline) chain.push_back({p, 0});
    CHECK(Outline(slab->outline).area_mm2() == Approx(Outline(chain).area_mm2()).epsilon(1e-4));
    std::string steps;
    for (const WorkStep& step : cutting_steps(plans.needs, plan, bin, design.rules, LengthUnit::millimetre))
      steps += step.words + "\n";
    CHECK_THAT(steps, Catch::Contains("a slab of " + format_number(half + 0.5, 2) + " mm is left"));
  }
  // A hair too thin for one: none.
  const auto [bin, plans] = planned(3 * half + 2 * kerf - 0.01, false);
  CHECK(front(plans.plans.front()).slabs.empty());
  // Too small for a leftover: none either.
  Design picky = design;
  picky.rules.leftover_length_mm = 200;
  const Bin thick = bin_with(picky, {120, 80}, 3 * half + 2 * kerf + 0.5);
  CHECK(front(plan_cutting(picky, lay_out(picky), thick, {}).plans.front()).slabs.empty());
}

TEST_CASE("sheets and rods that another project has noted are left to it") {
  Design design = two_woods();
  design.left.liners = {{"vulcanized_fibre", 0.8}};
  const Handle handle = lay_out(design);
  Bin bin;
  bin.sheets.push_back({"fibre", "", "vulcanized_fibre", 0.8, rectangle({400, 200})});
  for (const PinNeed& pin : needs_of(design, handle).pins)
    if (bin.rods.empty() || bin.rods.back().stock != pin.stock)
      bin.rods.push_back({"rod_" + std::to_string(bin.rods.size()), "", pin.stock, 500});
  const auto plan = [&](const Bin& over) {
    return plan_cutting(design, handle, over, {.project = "mine"}).plans.front();
  };
  REQUIRE(plan(bin).sheets_without.empty());
  REQUIRE(plan(bin).pins_without.empty());
  Bin mine = bin;
  mine.sheets[0].reserved = {{"mine", "left liner 1"}};
  mine.rods[0].reserved = {{"mine", "pin 1"}};
  CHECK(plan(mine).sheets_without.empty());
  CHECK(plan(mine).pins_without.empty());
  Bin others = bin;
  others.sheets[0].reserved = {{"another", "left liner 1"}, {"another", "right liner 1"}};
  for (RodStock& rod : others.rods) rod.reserved = {{"another", ""}};
  CHECK(plan(others).sheets_without.size() == needs_of(design, handle).sheets.size());
  CHECK(plan(others).pins_without.size() == design.pins.size());
  // Of two alike, another project takes one, however often it is noted.
  others.sheets[0].alike = 2;
  for (RodStock& rod : others.rods) rod.alike = 2;
  CHECK(plan(others).sheets_without.empty());
  CHECK(plan(others).pins_without.empty());
}

TEST_CASE("where the best grain counts first, the fibre runs along the piece's grain") {
  const Design design = two_woods();
  const Handle handle = lay_out(design);
  Bin bin = bin_with(design, {160, 90}, 30);
  // So far off its edges that both are within the limit.
  for (Offcut& offcut : bin.offcuts) offcut.grain.along_deg = 0.6 * design.rules.grain_off_deg;
  const auto off_deg = [&](std::vector<nesting::Preference> order) {
    const CuttingPlans plans = plan_cutting(design, handle, bin, {.order = std::move(order)});
    double most = 0;
    for (const BoardUse& use : plans.plans.front().offcuts)
      for (const PlacedBlank& blank : use.blanks)
        most = std::max(
            most, std::abs(std::remainder(blank.turn_deg - bin.offcuts[use.index].grain.along_deg, 180.0)));
    return most;
  };
  CHECK(off_deg({nesting::Preference::least_penalty}) == Approx(0).margin(1e-6));
  CHECK(off_deg({nesting::Preference::useful_leftover}) > 1);
}
