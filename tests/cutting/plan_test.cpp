// Plans held against the bin.
#include "haftwright/cutting/plan.hpp"

#include <catch2/catch.hpp>
#include <iostream>

#include "bin_for.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/cutting/findings.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "judge.hpp"
#include "support/random_design.hpp"
#include "support/seeds.hpp"

using namespace haftwright;

TEST_CASE("plans of random handles over random bins keep to the wood, the saw and the grain") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_PLANS", {.few = 12, .usual = 30, .all = 5000}, 0);
  std::size_t placed = 0, complete = 0, paired = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    INFO("seed " << seed);
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    test::Random random(seed + 77);
    const Bin bin = test::bin_for(design, needs_of(design, handle), random);
    for (const Problem& problem : validate(bin)) FAIL(problem.field + ": " + problem.what);
    const CuttingWishes wishes{.blanks_too = random.chance(0.8)};
    const CuttingPlans plans = plan_cutting(design, handle, bin, wishes, {.threads = 1});
    REQUIRE_FALSE(plans.plans.empty());
    for (const CuttingPlan& plan : plans.plans) {
      test::Judge judge(design, bin, plans, wishes.blanks_too);
      judge.hold(plan);
      placed += judge.placed();
      for (const Finding& finding : cutting_findings(design, plans.needs, plan, bin))
        if (finding.id == "cut.grain" || finding.id == "cut.thickness") CHECK(finding.status != Status::fail);
    }
    for (const BoardUse& use : plans.plans.front().offcuts)
      for (const PlacedBlank& blank : use.blanks) paired += blank.half != Half::whole;
    complete += plans.plans.front().pieces_without.empty();
  }
  std::cout << "cutting plans: " << seeds.count << " bins, " << complete << " with a place for every piece, "
            << placed << " blanks placed, " << paired << " in books\n";
  CHECK(placed > seeds.count);
  CHECK(paired > 0);
  CHECK(complete > 0);
  CHECK(complete < seeds.count);
}

TEST_CASE("the same plan for any number of threads") {
  const Design design = test::random_design(3);
  const Handle handle = lay_out(design);
  test::Random random(9);
  const Bin bin = test::bin_for(design, needs_of(design, handle), random);
  const auto lines = [&](unsigned threads) {
    const CuttingPlans plans = plan_cutting(design, handle, bin, {.blanks_too = true}, {.threads = threads});
    std::string all;
    for (const CuttingPlan& plan : plans.plans)
      for (const WorkStep& step : cutting_steps(plans.needs, plan, bin, design.rules, design.shown_unit))
        all += step.words + "\n";
    return all;
  };
  CHECK(lines(1) == lines(2));
}
