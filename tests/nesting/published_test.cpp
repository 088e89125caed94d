// Published instances of convex pieces cut from squares of 1000 x 1000 without waste: the least number of
// squares is known. The pieces keep the direction that they have in the published layout; any cuts are
// allowed, as the layouts were not made with straight cuts in mind.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <map>
#include <sstream>

#include "nesting/checker.hpp"
#include "nesting/random_problem.hpp"
#include "support/check_values.hpp"

using namespace haftwright;
using namespace haftwright::nesting;

namespace {

using Objects = std::vector<std::vector<Polygon>>;

std::map<std::string, Objects> instances() {
  std::map<std::string, Objects> result;
  for (const std::vector<std::string>& row : test::check_values("convex_pieces.csv")) {
    Polygon piece;
    std::istringstream numbers(row[2]);
    for (double x = 0, y = 0; numbers >> x >> y;) piece.push_back({x, y});
    Objects& objects = result[row[0]];
    objects.resize(std::max<std::size_t>(objects.size(), static_cast<std::size_t>(std::stoi(row[1]))));
    objects.back().push_back(piece);
  }
  return result;
}

Problem squares(const Objects& objects, std::size_t from, std::size_t to, std::size_t stocks) {
  Problem problem;
  problem.rules.straight_cuts = false;
  for (std::size_t s = 0; s < stocks; ++s)
    problem.stocks.push_back({.outline = test::rectangle(1000, 1000), .alike = 0});
  for (std::size_t o = from; o < to; ++o)
    for (const Polygon& piece : objects[o]) {
      Part part{piece, {}};
      for (std::size_t s = 0; s < stocks; ++s) part.candidates.push_back({s, {{0, 0}}, 0});
      problem.demands.push_back({{Way{{part}, false, 0}}});
    }
  return problem;
}

}  // namespace

TEST_CASE("the pieces of a published square fill it again") {
  std::size_t filled = 0, all = 0;
  for (const auto& [name, objects] : instances())
    for (std::size_t o = 0; o < objects.size(); ++o) {
      const Problem problem = squares(objects, o, o + 1, 1);
      const Plans plans = plan(problem, 1);
      INFO(name << " square " << o + 1);
      CHECK(test::wrong_with(problem, plans.plans[0]) == "");
      ++all;
      filled += plans.plans[0].unplaced_demands.empty() ? 1 : 0;
      if (!plans.plans[0].unplaced_demands.empty())
        WARN(name << " square " << o + 1 << ": " << plans.plans[0].unplaced_demands.size() << " of "
                  << objects[o].size() << " left over, proven " << plans.plans[0].proven_best);
    }
  WARN("filled " << filled << " of " << all);
  CHECK(filled == all);
}

TEST_CASE("published pieces come from nearly as few squares as they can") {
  for (const auto& [name, objects] : instances()) {
    for (const std::size_t count : {std::size_t{3}, objects.size()}) {
      // More pieces than the planner is made for: minutes.
      if (count > 3 && !std::getenv("HAFTWRIGHT_LONG")) continue;
      const Problem problem = squares(objects, 0, count, count + 4);
      Running running;
      running.time_limit_s = 600;
      const Plans plans = plan(problem, 1, running);
      const Plan& best = plans.plans[0];
      INFO(name << ", " << problem.demands.size() << " pieces");
      CHECK(test::wrong_with(problem, best) == "");
      CHECK(best.unplaced_demands.empty());
      WARN(name << ": " << problem.demands.size() << " pieces, squares " << best.cuts.size()
                << ", known least " << count << ", density "
                << 100.0 * static_cast<double>(count) / static_cast<double>(best.cuts.size()) << " %");
      CHECK(best.cuts.size() <= count + (count > 3 ? 2 : 0));
    }
  }
}
