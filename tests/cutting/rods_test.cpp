// Pins out of rods, against trying every way.
#include "rods.hpp"

#include <catch2/catch.hpp>

#include "support/random.hpp"

using namespace haftwright;

namespace {

struct Best {
  std::size_t without = SIZE_MAX;
  double begun = 1e18;
};

/// Every pin from every rod or from none, by counting through all ways.
Best every_way(const std::vector<double>& pins, const std::vector<double>& rods, double kerf) {
  Best best;
  const std::size_t choices = rods.size() + 1;
  std::size_t ways = 1;
  for (std::size_t i = 0; i < pins.size(); ++i) ways *= choices;
  for (std::size_t way = 0; way < ways; ++way) {
    std::vector<double> used(rods.size());
    std::vector<int> taken(rods.size());
    std::size_t rest = way, without = 0;
    for (const double pin : pins) {
      const std::size_t rod = rest % choices;
      rest /= choices;
      if (rod == rods.size()) {
        ++without;
        continue;
      }
      used[rod] += pin;
      ++taken[rod];
    }
    bool fits = true;
    double begun = 0;
    for (std::size_t r = 0; r < rods.size(); ++r) {
      // The last pin may end where the rod does.
      if (taken[r] > 0 && used[r] + (taken[r] - 1) * kerf > rods[r] + 1e-9) fits = false;
      if (taken[r] > 0) begun += rods[r];
    }
    if (fits && (without < best.without || (without == best.without && begun < best.begun)))
      best = {without, begun};
  }
  return best;
}

}  // namespace

TEST_CASE("as many pins as can be come out of the least rod") {
  test::Random random(3);
  for (int n = 0; n < 300; ++n) {
    Needs needs;
    Bin bin;
    const PinStock stock{.nominal_mm = 4, .material = "copper"};
    std::vector<double> pins, rods;
    for (std::size_t i = random.count(1, 5); i > 0; --i) {
      pins.push_back(random.between(15, 40));
      needs.pins.push_back({pins.size() - 1, stock, pins.back()});
    }
    for (std::size_t i = random.count(1, 3); i > 0; --i) {
      rods.push_back(random.between(10, 100));
      bin.rods.push_back({"r" + std::to_string(i), "", stock, rods.back()});
    }
    bin.rods.push_back({"other", "", {.nominal_mm = 5, .material = "copper"}, 1000});
    ShopRules rules;
    const cutting::RodPlan plan = cutting::plan_rods(needs, bin, rules, "mine");
    const Best best = every_way(pins, rods, rules.saw_kerf_mm);
    REQUIRE(plan.without.size() == best.without);
    double begun = 0;
    std::size_t served = 0;
    for (const RodUse& use : plan.uses) {
      begun += bin.rods[use.index].length_mm;
      served += use.pins.size();
      double used = 0;
      for (const std::size_t pin : use.pins) used += needs.pins[pin].length_mm + rules.saw_kerf_mm;
      REQUIRE(used - rules.saw_kerf_mm <= bin.rods[use.index].length_mm);
      REQUIRE(use.left_mm == Approx(std::max(0.0, bin.rods[use.index].length_mm - used)).margin(1e-9));
    }
    REQUIRE(served + plan.without.size() == pins.size());
    if (best.without < pins.size()) REQUIRE(begun == Approx(best.begun).margin(1e-9));
  }
}
