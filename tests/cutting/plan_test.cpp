// Plans held against the bin by the exact operations of the room geometry, which the planner does not use.
#include "haftwright/cutting/plan.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>

#include "bin_for.hpp"
#include "haftwright/cutting/cutting_list.hpp"
#include "haftwright/cutting/findings.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/offcuts/bin_checks.hpp"
#include "support/random_design.hpp"
#include "support/seeds.hpp"

using namespace haftwright;

namespace {

// Places are on a grid of a micrometre, and arcs of a rim are followed by chords.
constexpr double kGrid_mm = 0.005;

Outline outline_of(const std::vector<Vec2>& points) {
  std::vector<Node> chain;
  for (const Vec2 p : points) chain.push_back({p, 0});
  return Outline(chain);
}

bool overlap(const Outline& a, const Outline& b) {
  return boundary_distance_mm(a, b) == 0 || contains(a, b) || contains(b, a);
}

class Judge {
 public:
  Judge(const Design& design, const Bin& bin, const CuttingPlans& plans, bool blanks_too)
      : bin_(bin), plans_(plans), rules_(design.rules), blanks_too_(blanks_too) {}

  void hold(const CuttingPlan& plan) {
    std::vector<int> served(plans_.needs.pieces.size());
    std::vector<std::vector<std::size_t>> copies(bin_.offcuts.size());
    for (const BoardUse& use : plan.offcuts) {
      REQUIRE_FALSE(use.blanks.empty());
      take_copy(copies[use.index], use.copy, bin_.offcuts[use.index]);
      if (use.with_slice) take_copy(copies[*use.with_slice], use.copy, bin_.offcuts[*use.with_slice]);
      board(use);
      for (const PlacedBlank& blank : use.blanks) {
        ++served[blank.need];
        piece(use, blank);
      }
    }
    for (const std::size_t without : plan.pieces_without) ++served[without];
    for (std::size_t i = 0; i < served.size(); ++i)
      CHECK(served[i] == (plans_.needs.pieces[i].at_hand && !blanks_too_ ? 0 : 1));
    pairs(plan);
  }

  std::size_t placed() const { return placed_; }

 private:
  void take_copy(std::vector<std::size_t>& taken, std::size_t copy, const Offcut& offcut) {
    CHECK(std::ranges::find(taken, copy) == taken.end());
    taken.push_back(copy);
    CHECK(taken.size() + offcut.reserved.size() <= static_cast<std::size_t>(offcut.alike));
  }

  /// Inside, clear of defects, a kerf from each other.
  void board(const BoardUse& use) {
    std::vector<Outline> shapes;
    for (const PlacedBlank& blank : use.blanks)
      if (blank.half != Half::lower || use.blanks.size() == 1) shapes.push_back(outline_of(blank.outline));
    for (const std::size_t index : {use.index, use.with_slice.value_or(use.index)}) {
      const Offcut& offcut = bin_.offcuts[index];
      const Outline rim(offcut.outline);
      for (const PlacedBlank& blank : use.blanks) {
        const Outline shape = outline_of(blank.outline);
        CHECK(contains(rim, shape));
        CHECK(boundary_distance_mm(rim, shape) >= rules_.offcut_rim_mm - kGrid_mm);
        for (const Defect& defect : offcut.defects) {
          const Outline area(defect.outline);
          CHECK_FALSE(overlap(area, shape));
          CHECK(boundary_distance_mm(area, shape) >= rules_.defect_margin_mm - kGrid_mm);
        }
      }
    }
    for (std::size_t a = 0; a < shapes.size(); ++a)
      for (std::size_t b = a + 1; b < shapes.size(); ++b) {
        CHECK_FALSE(overlap(shapes[a], shapes[b]));
        CHECK(boundary_distance_mm(shapes[a], shapes[b]) >= rules_.saw_kerf_mm - kGrid_mm);
      }
    CHECK(use.cuts.complete);
  }

  /// Of the right wood, thick enough, the right way up and along.
  void piece(const BoardUse& use, const PlacedBlank& blank) {
    ++placed_;
    const PieceNeed& need = plans_.needs.pieces[blank.need];
    const bool book = blank.pairing == Pairing::book;
    for (const std::size_t index : {use.index, use.with_slice.value_or(use.index)}) {
      const Offcut& offcut = bin_.offcuts[index];
      CHECK(offcut.material == need.material);
      CHECK(offcut.thickness_mm >= need.thickness_mm);
    }
    if (blank.half == Half::whole) {
      const unsigned face = blank.lower_face ? ShowFace::lower_face : ShowFace::upper_face;
      CHECK((bin_.offcuts[use.index].show_faces & face) != 0);
    }
    if (book) {
      double thick = rules_.saw_kerf_mm;
      for (const PlacedBlank& other : use.blanks)
        if (other.at_mm == blank.at_mm) thick += plans_.needs.pieces[other.need].thickness_mm;
      CHECK(bin_.offcuts[use.index].thickness_mm >= thick);
    }
    // The blank is the need's outline, moved without change of size.
    REQUIRE(blank.outline.size() == need.outline.size());
    CHECK(outline_of(blank.outline).area_mm2() == Approx(outline_of(need.outline).area_mm2()).epsilon(1e-9));
    CHECK(blank.mirrored == ((need.side == Which::right) != blank.lower_face));
  }

  void pairs(const CuttingPlan& plan) {
    for (const BoardUse& use : plan.offcuts)
      for (const PlacedBlank& blank : use.blanks) {
        if (blank.pairing == Pairing::single || blank.pairing == Pairing::apart) continue;
        const auto mate = std::ranges::find_if(use.blanks, [&](const PlacedBlank& other) {
          return &other != &blank && is_mate(other.need, blank.need);
        });
        REQUIRE(mate != use.blanks.end());
        CHECK(mate->pairing == blank.pairing);
        if (blank.pairing == Pairing::one_offcut) {
          CHECK(mate->lower_face == blank.lower_face);
          continue;
        }
        // Halves of a book lie over each other and face away from each other.
        CHECK(mate->at_mm == blank.at_mm);
        CHECK(mate->turn_deg == blank.turn_deg);
        CHECK(mate->lower_face != blank.lower_face);
        CHECK(mate->half != blank.half);
        CHECK(mate->mirrored == blank.mirrored);
      }
  }

  bool is_mate(std::size_t a, std::size_t b) const {
    return std::ranges::any_of(plans_.needs.mates, [&](const Mates& mates) {
      return (mates.left == a && mates.right == b) || (mates.left == b && mates.right == a);
    });
  }

  const Bin& bin_;
  const CuttingPlans& plans_;
  const ShopRules& rules_;
  bool blanks_too_;
  std::size_t placed_ = 0;
};

}  // namespace

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
      Judge judge(design, bin, plans, wishes.blanks_too);
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
