// The shop's own file as a value: what is wrong with it is told as for a project.
#include "haftwright/design/shop.hpp"

#include <catch2/catch.hpp>

#include "haftwright/design/shop_schema.hpp"
#include "haftwright/design/validate.hpp"
#include "nth_number.hpp"

using namespace haftwright;

namespace {

/// The only problem, as a maker sees it; all of them when there are several.
std::string said(const Shop& shop) {
  const std::vector<Problem> problems = validate(shop);
  return problems.empty() ? "good" : InputError(problems).what();
}

Shop with_drills(std::vector<OwnedDrill> drills) {
  Shop shop;
  shop.drills = std::move(drills);
  return shop;
}

}  // namespace

TEST_CASE("a shop begins with the values that a project begins with") {
  const Shop shop;
  const Design design;
  CHECK(said(shop) == "good");
  CHECK(shop.adhesive == design.adhesive);
  CHECK(shop.rules == design.rules);
  CHECK(shop.guide == static_cast<const GuideHabits&>(design.guide));
  CHECK(shop.drilling == static_cast<const DrillingHabits&>(design.drilling));
}

TEST_CASE("each number of a shop is held to its range, and the field is named") {
  Shop shop = with_drills({{"3.1 mm", 3.14, ""}});
  shop.guide.bushing_outside_mm = 10;
  std::size_t count = 0;
  for (; const auto number = test::nth_number(shop, count); ++count) {
    INFO(number->path);
    const double beyond = number->quantity.most + 1;
    const std::string wrong = said(test::with_number(shop, count, beyond));
    CHECK(wrong.find(number->path + ": must be ") == 0);
    CHECK(wrong.find(shortest_number(beyond)) != std::string::npos);
    CHECK(said(test::with_number(shop, count, number->quantity.most)).find(number->path + ": must be ") ==
          std::string::npos);
  }
  // Every rule and every error, 9 numbers of the adhesive, 8 of the guide and the drill's hole.
  CHECK(count == rule_rows().size() + error_rows().size() + 9 + 8 + 1);
}

TEST_CASE("limits of a shop hold each other as those of a project do") {
  Shop shop;
  shop.rules.glue_clearance_least_mm = 0.2;
  CHECK(said(shop).find("rules.glue_clearance_least_mm: must not be more than") == 0);
  shop = {};
  shop.rules.mix_near_share = 0.06;
  CHECK(said(shop).find("rules.mix_near_share: must not be more than") == 0);
}

TEST_CASE("an owned drill is a listed one, stands once, and says in what it was measured only if it was") {
  CHECK(said(with_drills(
            {{"3.1 mm", std::nullopt, ""}, {"#30", 3.3, "black_walnut"}, {"1/8 reamer over", 3.2, ""}})) ==
        "good");
  CHECK(said(with_drills({{"", 3.1, ""}})).find("drills[0].drill: must not be empty") == 0);
  const std::string unknown = said(with_drills({{"3.1 mm", 3.1, ""}, {"3.15 m", 3.1, ""}}));
  CHECK(unknown.find("drills[1].drill: no listed drill is called \"3.15 m\"") == 0);
  CHECK(unknown.find("haftwright list drills") != std::string::npos);
  CHECK(said(with_drills({{"#30", 3.3, ""}, {"No. 30", std::nullopt, ""}}))
            .find("drills[1].drill: is \"No. 30\", which stands further up already") == 0);
  CHECK(said(with_drills({{"#30", std::nullopt, "black_walnut"}}))
            .find("drills[0].measured_in: must be left out") == 0);
  CHECK(said(with_drills({{"#30", 3.3, "blak_walnut"}})).find("did you mean \"black_walnut\"") !=
        std::string::npos);
}

TEST_CASE("a drill stands a second time only where it was measured in a metal and in something else") {
  const OwnedDrill wood{"#30", 3.3, "black_walnut"};
  const OwnedDrill steel{"no 30", 3.28, "tool_steel"};
  const OwnedDrill laminate{"#30", 3.27, "g10"};
  const OwnedDrill anything{"#30", 3.3, ""};
  CHECK(said(with_drills({wood, steel})) == "good");
  CHECK(said(with_drills({steel, laminate})) == "good");
  for (const auto& [first, second] : {std::pair(wood, laminate), std::pair(wood, anything),
                                      std::pair(anything, steel), std::pair(anything, anything)})
    CHECK(said(with_drills({first, second})).find("drills[1].drill: is ") == 0);
  CHECK(said(with_drills({wood, steel, laminate})).find("drills[2].drill: is ") == 0);
}
