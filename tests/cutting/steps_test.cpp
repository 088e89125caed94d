// The steps at the bench say every blank, every cut with its fence, and what goes back.
#include <catch2/catch.hpp>

#include <algorithm>

#include "bin_for.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random_design.hpp"
#include "support/seeds.hpp"

using namespace haftwright;

namespace {

/// Goes through steps in their order.
class Steps {
 public:
  explicit Steps(std::vector<WorkStep> steps) : steps_(std::move(steps)) {}

  /// A step after the last one found has all of these words.
  bool next_has(const std::vector<std::string>& words) {
    for (; at_ < steps_.size(); ++at_)
      if (std::ranges::all_of(words, [&](const std::string& word) {
            return steps_[at_].words.find(word) != std::string::npos;
          })) {
        ++at_;
        return true;
      }
    return false;
  }
  std::size_t cautions() const {
    return static_cast<std::size_t>(std::ranges::count(steps_, true, &WorkStep::caution));
  }

 private:
  std::vector<WorkStep> steps_;
  std::size_t at_ = 0;
};

struct Seen {
  std::size_t blanks = 0, fences = 0, leftovers = 0, books = 0, rods = 0;
};

void hold(const CuttingPlans& plans, const CuttingPlan& plan, const Bin& bin, const ShopRules& rules,
          Seen& seen) {
  constexpr LengthUnit kUnit = LengthUnit::millimetre;
  const auto mm = [](double length) { return format_length(length, kUnit); };
  Steps steps(cutting_steps(plans.needs, plan, bin, rules, kUnit));
  CHECK(steps.cautions() == 3);
  const auto cuts = [&](const BoardUse& use) {
    for (std::size_t i = 0; i < use.cuts.cuts.size(); ++i) {
      const nesting::Cut& cut = use.cuts.cuts[i];
      CHECK(steps.next_has({"Cut " + std::to_string(i + 1) + ": right through",
                            cut.fence ? "fence " + mm(cut.fence->distance_mm) : "no edge to set a fence"}));
      seen.fences += cut.fence.has_value();
    }
  };
  for (const BoardUse& use : plan.offcuts) {
    CHECK(steps.next_has({"Take " + offcut_words(bin, use.index)}));
    for (const PlacedBlank& blank : use.blanks)
      CHECK(steps.next_has({"Mark the " + blank_words(plans.needs.pieces[blank.need], kUnit),
                            blank.lower_face ? "lower face shows" : "upper face shows"}));
    seen.blanks += use.blanks.size();
    cuts(use);
    for (const PlacedBlank& blank : use.blanks)
      if (blank.pairing == Pairing::book && blank.half == Half::upper) {
        CHECK(steps.next_has({"through its thickness, " + mm(plans.needs.pieces[blank.need].thickness_mm)}));
        ++seen.books;
      }
    std::vector<std::string> left{"Put back"};
    for (const nesting::Leftover& leftover : use.leftovers)
      if (leftover.worth > 0)
        left.push_back(mm(leftover.clear_size_mm.x) + " x " + mm(leftover.clear_size_mm.y));
    for (const Slab& slab : use.slabs) left.push_back(" x " + mm(slab.thickness_mm));
    if (left.size() > 1) CHECK(steps.next_has(left));
    seen.leftovers += left.size() - 1;
  }
  for (const BoardUse& use : plan.sheets) {
    CHECK(steps.next_has({"Take the sheet"}));
    for (const PlacedBlank& blank : use.blanks)
      CHECK(steps.next_has({"Mark the " + plans.needs.sheets[blank.need].name}));
    cuts(use);
  }
  for (const RodUse& use : plan.rods) {
    std::vector<std::string> words{"saw off", mm(use.left_mm) + " is left"};
    for (const std::size_t pin : use.pins) words.push_back(mm(plans.needs.pins[pin].length_mm));
    CHECK(steps.next_has(words));
    ++seen.rods;
  }
}

}  // namespace

TEST_CASE("the steps name each blank, each cut with its fence, and what is put back") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_STEPS", {.few = 8, .usual = 16, .all = 400}, 0);
  Seen seen;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    INFO("seed " << seed);
    const Design design = test::random_design(seed);
    const Handle handle = lay_out(design);
    test::Random random(seed + 77);
    const Bin bin = test::bin_for(design, needs_of(design, handle), random);
    const CuttingPlans plans =
        plan_cutting(design, handle, bin, {.plans = 1, .blanks_too = true}, {.threads = 1});
    hold(plans, plans.plans.front(), bin, design.rules, seen);
  }
  CHECK(seen.blanks > seeds.count);
  CHECK(seen.fences > seeds.count);
  CHECK(4 * seen.leftovers > seeds.count);
  CHECK(seen.books > 0);
  CHECK(seen.rods > 5);
}

TEST_CASE("a blank in fractions of an inch has decimals where the fraction is not exact") {
  PieceNeed need{
      .name = "left piece", .outline = {{0, 0}, {50.8, 0}, {50.8, 27}, {0, 27}}, .thickness_mm = 8};
  CHECK(blank_words(need, LengthUnit::inch_fraction) ==
        "left piece, 2 in x ~1 1/16 in (1.063) x ~5/16 in (0.315)");
  CHECK(blank_words(need, LengthUnit::millimetre) == "left piece, 50.80 mm x 27.00 mm x 8.00 mm");
}
