// What plans keep to: hand-placed parts, alike stocks, stocks that exclude each other, preferences, threads,
// stopping.
#include <catch2/catch.hpp>

#include "nesting/checker.hpp"
#include "nesting/random_problem.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::nesting;

namespace {

Part part(double length, double width, std::vector<std::size_t> stocks) {
  Part result{test::rectangle(length, width), {}};
  for (const std::size_t s : stocks) result.candidates.push_back({s, {{0, 0}}, 0});
  return result;
}
Demand single(const Part& p) {
  return {{Way{{p}, false, 0}}};
}

bool same(const Plans& a, const Plans& b) {
  if (a.plans.size() != b.plans.size()) return false;
  for (std::size_t i = 0; i < a.plans.size(); ++i)
    if (a.plans[i].placed != b.plans[i].placed || !(a.plans[i].value == b.plans[i].value)) return false;
  return true;
}

}  // namespace

TEST_CASE("small stocks are opened first, and the order of preferences decides") {
  Problem problem;
  problem.stocks = {{.outline = test::rectangle(200, 60)}, {.outline = test::rectangle(60, 30)}};
  problem.demands = {single(part(50, 20, {0, 1}))};
  problem.rules = {2, 0, 20, 10, true, {Preference::small_stocks}};
  CHECK(plan(problem, 1).plans[0].placed[0].stock == 1);
  // 50 x 20 of 60 x 30 leaves nothing useful and loses all its worth; of 200 x 60 it loses more.
  problem.rules.order = {Preference::fewest_cuts};
  problem.stocks[0].outline = test::rectangle(50, 60);
  problem.demands = {single(part(50, 20, {0, 1}))};
  const Plans plans = plan(problem, 2);
  CHECK(plans.plans[0].placed[0].stock == 0);
  CHECK(plans.plans[0].cuts[0].cuts.size() == 1);
  REQUIRE(plans.plans.size() == 2);
  CHECK(plans.plans[1].placed[0].stock == 1);
  CHECK(plans.plans[0].against_next.what == Decision::preference);
  CHECK(plans.plans[0].against_next.preference == Preference::fewest_cuts);
}

TEST_CASE("a cut has its fence setting") {
  Problem problem;
  problem.stocks = {{.outline = test::rectangle(200, 60)}};
  problem.demands = {single(part(80, 60, {0}))};
  problem.rules.kerf_mm = 3;
  const Plans plans = plan(problem, 1);
  REQUIRE(plans.plans[0].cuts.size() == 1);
  REQUIRE(plans.plans[0].cuts[0].cuts.size() == 1);
  const Cut& cut = plans.plans[0].cuts[0].cuts[0];
  REQUIRE(cut.fence);
  const bool at_left = plans.plans[0].placed[0].at_mm.x == 0;
  CHECK(cut.from_mm.x == Approx(at_left ? 81.5 : 118.5));
  CHECK(std::abs(cut.from_mm.y - cut.to_mm.y) == Approx(60));
  CHECK(cut.fence->distance_mm == Approx(80));
  CHECK(cut.angle_deg == Approx(90));
  CHECK(cut.made.size() == 2);
  REQUIRE(plans.plans[0].leftovers.size() == 1);
  CHECK(plans.plans[0].leftovers[0].clear_size_mm.x == Approx(117));
  CHECK(plans.plans[0].leftovers[0].clear_size_mm.y == Approx(60));
  CHECK(plans.plans[0].leftovers[0].worth == worth_of(117, 60, problem.rules));
}

TEST_CASE("a hand-placed part is an obstacle, is done, and leads its way") {
  Problem problem;
  problem.stocks = {{.outline = test::rectangle(100, 40)}, {.outline = test::rectangle(100, 40)}};
  Way pair{{part(45, 40, {0, 1}), part(45, 40, {0, 1})}, true, 1};
  problem.demands = {{{Way{{part(10, 10, {0})}, false, 0}, pair}}, single(part(45, 40, {0, 1}))};
  problem.rules.kerf_mm = 2;
  problem.fixed = {{0, 1, 0, 1, {0, 0}, 0}};
  const Plans plans = plan(problem, 1);
  CHECK(test::wrong_with(problem, plans.plans[0]) == "");
  CHECK(plans.plans[0].unplaced_demands.empty());
  REQUIRE(plans.plans[0].placed.size() == 2);
  CHECK(plans.plans[0].placed[0].way == 1);
  CHECK(plans.plans[0].placed[0].part == 1);
  CHECK(plans.plans[0].placed[0].stock == 1);
  CHECK(plans.plans[0].placed[1].stock == 0);
  problem.fixed.push_back({0, 1, 1, 1, {52, 0}, 0});
  const Plans both = plan(problem, 1);
  REQUIRE(both.plans[0].placed.size() == 1);
  CHECK(both.plans[0].placed[0].demand == 1);
}

TEST_CASE("stocks that exclude each other are not used together, however they hang together") {
  Problem problem;
  for (int s = 0; s < 3; ++s) problem.stocks.push_back({.outline = test::rectangle(50, 40)});
  for (int d = 0; d < 3; ++d) problem.demands.push_back(single(part(50, 40, {0, 1, 2})));
  CHECK(plan(problem, 1).plans[0].value.unplaced == 0);
  problem.stocks[0].excludes = {1};
  CHECK(plan(problem, 1).plans[0].value.unplaced == 1);
  // A chain: the ends go together.
  problem.stocks[2].excludes = {1};
  const Plans chain = plan(problem, 1);
  CHECK(chain.plans[0].value.unplaced == 1);
  CHECK(test::wrong_with(problem, chain.plans[0]) == "");
  problem.stocks[2].excludes = {0, 1};
  CHECK(plan(problem, 1).plans[0].value.unplaced == 2);
}

TEST_CASE("many alike stocks and demands cost no more than a few, and alternatives differ") {
  Problem problem;
  for (std::size_t s = 0; s < 400; ++s)
    problem.stocks.push_back({.outline = test::rectangle(100, 40), .alike = 0});
  std::vector<std::size_t> all(problem.stocks.size());
  for (std::size_t s = 0; s < all.size(); ++s) all[s] = s;
  for (std::size_t d = 0; d < 12; ++d) problem.demands.push_back(single(part(45, 18, all)));
  problem.rules = {2, 0, 20, 10, true, {}};
  const Plans plans = plan(problem, 3);
  CHECK(plans.plans[0].value.unplaced == 0);
  // Four on each.
  CHECK(plans.plans[0].cuts.size() == 3);
  CHECK(plans.plans[0].proven_best);
  for (const Plan& p : plans.plans) CHECK(test::wrong_with(problem, p) == "");
}

TEST_CASE("what fits nowhere is said") {
  Problem problem;
  problem.stocks = {{.outline = test::rectangle(100, 40)}};
  problem.demands = {single(part(50, 30, {0})), single(part(120, 30, {0})), single(part(90, 35, {0}))};
  const Plans plans = plan(problem, 1);
  CHECK(plans.never_fits == std::vector<std::size_t>{1});
  CHECK(plans.plans[0].unplaced_demands.size() == 2);
  CHECK(plans.plans[0].proven_best);
}

TEST_CASE("the number of threads changes nothing") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_THREADED_PLANS", {4, 20, 100}, 1000);
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    test::Random random(seed);
    const Problem problem = test::random_problem(random);
    INFO("seed " << seed);
    Running one, four;
    one.threads = 1;
    four.threads = 4;
    one.effort = four.effort = 0.1;
    CHECK(same(plan(problem, 3, one), plan(problem, 3, four)));
  }
}

TEST_CASE("planning can be stopped and tells how far it is") {
  test::Random random(5);
  const Problem problem = test::random_problem(random);
  std::stop_source source;
  Running running;
  running.stop = source.get_token();
  std::vector<double> shares;
  running.progress = [&](double share) { shares.push_back(share); };
  CHECK_FALSE(plan(problem, 1, running).stopped);
  REQUIRE_FALSE(shares.empty());
  CHECK(std::is_sorted(shares.begin(), shares.end()));
  CHECK(shares.back() == 1);
  source.request_stop();
  const Plans stopped = plan(problem, 1, running);
  CHECK(stopped.stopped);
  CHECK(stopped.plans.empty());
  Running short_time;
  short_time.time_limit_s = 0;
  const Plans late = plan(problem, 1, short_time);
  CHECK(late.out_of_time);
  REQUIRE(late.plans.size() == 1);
  CHECK_FALSE(late.plans[0].proven_best);
}
