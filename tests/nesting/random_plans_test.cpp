// Plans of random problems, held against what a plan must keep by a checker that shares no code with the
// planner.
#include <catch2/catch.hpp>

#include "nesting/checker.hpp"
#include "nesting/random_problem.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::nesting;

TEST_CASE("random plans can be laid out and sawn") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_PLANS", {40, 300, 5000}, 1);
  std::size_t placed = 0, unplaced = 0, proven = 0, alternatives = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    test::Random random(seed);
    const Problem problem = test::random_problem(random);
    Running running;
    running.effort = seed % 10 == 0 ? 1 : 0.05;
    const Plans plans = plan(problem, 3, running);
    REQUIRE_FALSE(plans.plans.empty());
    proven += plans.plans[0].proven_best ? 1 : 0;
    alternatives += plans.plans.size() - 1;
    for (std::size_t i = 0; i < plans.plans.size(); ++i) {
      INFO("seed " << seed << ", plan " << i);
      CHECK(test::wrong_with(problem, plans.plans[i]) == "");
      placed += plans.plans[i].placed.size();
      unplaced += plans.plans[i].unplaced_demands.size();
      CHECK(plans.plans[i].value.unplaced ==
            static_cast<std::int64_t>(plans.plans[i].unplaced_demands.size()));
      if (i > 0)
        CHECK_FALSE(compare(plans.plans[i].value, plans.plans[i - 1].value, problem.rules).first_is_better);
      CHECK_FALSE(compare(plans.plans[i].value, plans.plans[0].bound, problem.rules).first_is_better);
    }
  }
  // The problems are neither all easy nor all hopeless.
  WARN("placed " << placed << ", unplaced " << unplaced << ", proven " << proven << ", more plans "
                 << alternatives);
  CHECK(placed > seeds.count);
  CHECK(unplaced > 0);
  CHECK(proven > 0);
  CHECK(alternatives > seeds.count / 4);
}
