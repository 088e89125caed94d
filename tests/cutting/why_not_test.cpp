// The smallest change makes a plan possible, and less of it does not.
#include "haftwright/cutting/why_not.hpp"

#include <catch2/catch.hpp>

#include "changes.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/geometry/box.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "two_woods.hpp"

using namespace haftwright;
using namespace haftwright::test;

namespace {

/// The same change by two hundredths less of its amount.
Design by_less(const Design& design, const Needs& needs, const CuttingChange& change) {
  for (const std::size_t piece : {needs.mates[0].left, needs.mates[0].right})
    for (const cutting::Change& kind : cutting::changes_for(design, needs.pieces[piece]))
      if (kind.words(change.amount) == change.words) return *kind.edit(0.98 * change.amount);
  FAIL("no kind of change says: " + change.words);
  return design;
}

}  // namespace

TEST_CASE("every change it offers gives all pieces a place, and two hundredths less of it does not") {
  const Design design = two_woods();
  const Needs needs = needs_of(design, lay_out(design));
  const Vec2 size = box_round(needs.pieces[0].outline).size();
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
      if (!change.words.starts_with("part ")) CHECK(without(by_less(design, needs, change), one.bin) > 0);
    }
    CHECK(named);
  }
}

TEST_CASE("a joint is moved by what the offcut is too short") {
  const Design design = two_woods();
  const Needs needs = needs_of(design, lay_out(design));
  const Vec2 size = box_round(needs.pieces[0].outline).size();
  const double rim = 2 * (design.rules.offcut_rim_mm + 0.02);
  const Bin bin = bin_with(design, {size.x + rim - 3, size.y + rim},
                           2 * needs.pieces[0].thickness_mm + design.rules.saw_kerf_mm + 0.2);
  const CuttingPlans plans = plan_cutting(design, lay_out(design), bin, {});
  const std::vector<WhyNot> reasons = why_not(design, bin, {}, plans);
  REQUIRE(reasons.size() == 1);
  const auto moved = std::ranges::find_if(
      reasons[0].changes, [](const CuttingChange& change) { return change.words.find("move joint 1") == 0; });
  REQUIRE(moved != reasons[0].changes.end());
  CHECK(design.left.joints[0].place_mm - moved->design.left.joints[0].place_mm ==
        Approx(moved->amount).margin(1e-9));
  CHECK(moved->amount == Approx(3).margin(0.2));
}

TEST_CASE("a piece too long for every offcut may be parted by a joint that no pin is in") {
  const Design design = two_woods();
  const Needs needs = needs_of(design, lay_out(design));
  const Vec2 rear = box_round(needs.pieces[1].outline).size();
  Bin bin = bin_with(design, {120, 80}, 30);
  // Enough for two halves, each way, but for no whole one.
  bin.offcuts[0].outline = rectangle({0.75 * rear.x, rear.y + 6});
  bin.offcuts[0].alike = 2;
  const CuttingPlans plans = plan_cutting(design, lay_out(design), bin, {});
  REQUIRE(plans.plans.front().pieces_without.size() == 2);
  const std::vector<WhyNot> reasons = why_not(design, bin, {}, plans);
  REQUIRE(reasons.size() == 1);
  REQUIRE_FALSE(reasons[0].changes.empty());
  const CuttingChange& parted = reasons[0].changes.back();
  CHECK_THAT(parted.words, Catch::Contains("part the left rear piece in two"));
  CHECK(parted.design.left.pieces.size() == 3);
  CHECK(without(parted.design, bin) == 0);
  const auto fails = [](const Design& made) {
    return std::ranges::count(run_checks(made, lay_out(made)), Status::fail, &Finding::status);
  };
  CHECK(fails(parted.design) <= fails(design));
}
