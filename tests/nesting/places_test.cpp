// One shape on one stock: legal, nearest, fits, and how much is lacking.
#include <catch2/catch.hpp>
#include <cmath>

#include "haftwright/nesting/shortfalls.hpp"
#include "nesting/checker.hpp"
#include "nesting/random_problem.hpp"
#include "support/nearly.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::nesting;

namespace {

/// What the checker says of a place; trim and margin to the micrometre, as rims and keep-outs here are
/// upright.
bool independently_legal(const Stock& stock, const Polygon& shape, const Place& place, const Rules& rules,
                         const std::vector<Obstacle>& obstacles) {
  const auto um = [](double mm) { return std::llround(mm * 1000); };
  const test::GridPath laid = test::laid(shape, place.at_mm, place.angle_deg);
  if (!test::lies_within(laid, test::grid_path(stock.outline), um(stock.trim_mm))) return false;
  for (const Polygon& keep_out : stock.keep_outs)
    if (!test::lies_clear(laid, test::grid_path(keep_out), um(rules.defect_margin_mm))) return false;
  for (const Obstacle& o : obstacles)
    if (test::nearer_than(laid, test::laid(o.shape, o.at_mm, o.angle_deg), um(rules.kerf_mm))) return false;
  return true;
}

struct Trial {
  Stock stock;
  Polygon shape;
  Angles angles;
  Rules rules;
  std::vector<Obstacle> obstacles;
};

Trial random_trial(test::Random& random) {
  Trial trial;
  trial.stock = test::random_stock(random, 140);
  trial.stock.trim_mm = 0;
  trial.shape = test::random_shape(random, 110);
  trial.angles = {random.between(-180, 180), random.chance(0.3) ? 0 : random.between(0, 12)};
  trial.rules = {2, 0, 0, 0, false, {}};
  return trial;
}

}  // namespace

TEST_CASE("a shape that just fits has one place") {
  const Stock stock{.outline = test::rectangle(100, 40)};
  const Rules rules{};
  const Polygon whole = test::rectangle(100, 40);
  CHECK(legal(stock, whole, {{0, 0}, 0}, rules, {}));
  CHECK(legal(stock, whole, {{100, 40}, 180}, rules, {}));
  CHECK_FALSE(legal(stock, whole, {{0.001, 0}, 0}, rules, {}));
  CHECK_FALSE(legal(stock, whole, {{0, 0}, 0.01}, rules, {}));
  const Fit fit = fits(stock, whole, {0, 0}, rules, {});
  REQUIRE(fit.answer == Answer::yes);
  CHECK(fit.place->at_mm == Vec2{0, 0});
  CHECK(fits(stock, test::rectangle(100.001, 40), {0, 0}, rules, {}).answer != Answer::yes);
  CHECK(fits(stock, test::rectangle(100.1, 40), {0, 0}, rules, {}).answer == Answer::no);
  CHECK(fits(stock, test::rectangle(40, 100), {0, 90}, rules, {}).answer == Answer::yes);
  CHECK(fits(stock, test::rectangle(40, 100), {0, 89}, rules, {}).answer != Answer::yes);
}

TEST_CASE("the kerf is kept between shapes, the trim along the rim, the margin about keep-outs") {
  Stock stock{.outline = test::rectangle(100, 40), .trim_mm = 5};
  const Rules rules{.kerf_mm = 2, .defect_margin_mm = 3};
  const Polygon shape = test::rectangle(44, 30);
  const std::vector<Obstacle> other{{shape, {5, 5}, 0}};
  CHECK(legal(stock, shape, {{51, 5}, 0}, rules, other));
  CHECK_FALSE(legal(stock, shape, {{50.999, 5}, 0}, rules, other));
  CHECK_FALSE(legal(stock, shape, {{51.001, 5}, 0}, rules, other));
  stock.keep_outs = {{{98, 20}, {99, 20}, {99, 21}, {98, 21}}};
  CHECK(legal(stock, shape, {{51, 5}, 0}, rules, other));
  stock.keep_outs = {{{97.999, 20}, {99, 20}, {99, 21}, {97.999, 21}}};
  CHECK_FALSE(legal(stock, shape, {{51, 5}, 0}, rules, other));
}

TEST_CASE("a rectangle that must be turned fits at the angle of the closed form") {
  // A rod of no width and length l in a square of side 1 at 45 degrees: a rod of width w fits while l + w <=
  // sqrt(2).
  const Stock stock{.outline = test::rectangle(100, 100)};
  const double diagonal = 100 * std::sqrt(2.0);
  CHECK(fits(stock, test::rectangle(diagonal - 10 - 0.01, 10), {40, 20}, {}, {}).answer == Answer::yes);
  CHECK(fits(stock, test::rectangle(diagonal - 10 + 0.1, 10), {40, 20}, {}, {}).answer == Answer::no);
}

TEST_CASE("no dense trying finds a place where the answer is no") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_FITS", {60, 600, 6000}, 1);
  std::size_t yes = 0, no = 0, closely = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    test::Random random(seed);
    const Trial t = random_trial(random);
    INFO("seed " << seed);
    const Fit fit = fits(t.stock, t.shape, t.angles, t.rules, {});
    yes += fit.answer == Answer::yes ? 1 : 0;
    no += fit.answer == Answer::no ? 1 : 0;
    closely += fit.answer == Answer::no_closely ? 1 : 0;
    if (fit.answer == Answer::yes) {
      CHECK(independently_legal(t.stock, t.shape, *fit.place, t.rules, {}));
      CHECK(std::abs(std::remainder(fit.place->angle_deg - t.angles.middle_deg, 360.0)) <=
            t.angles.play_deg + 1e-9);
      continue;
    }
    for (int i = 0; i < 2000; ++i) {
      const Place place{{random.between(-90, 160), random.between(-90, 110)},
                        t.angles.middle_deg + random.between(-1, 1) * t.angles.play_deg};
      REQUIRE_FALSE(independently_legal(t.stock, t.shape, place, t.rules, {}));
    }
  }
  WARN("yes " << yes << ", no " << no << ", no closely " << closely);
  CHECK(yes > seeds.count / 10);
  CHECK(no > seeds.count / 10);
  CHECK(closely < seeds.count / 20);
}

TEST_CASE("legal is what the checker says") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_FITS", {20, 200, 2000}, 1);
  std::size_t is_legal = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    test::Random random(seed);
    Trial t = random_trial(random);
    // Without a kerf the room's own measure of the gap and the distance are the same.
    t.rules.kerf_mm = 0;
    const Polygon small = test::random_shape(random, 40);
    for (int i = 0; i < 50; ++i) {
      const Place place{
          {std::round(random.between(-60, 100)), std::round(random.between(-40, 60))},
          random.chance(0.5) ? 90.0 * static_cast<double>(random.index(4)) : random.between(0, 360)};
      const std::vector<Obstacle> others{{small, t.stock.outline[2] * random.between(0, 1), 0}};
      const bool expected = independently_legal(t.stock, small, place, t.rules, others);
      INFO("seed " << seed << " try " << i);
      CHECK(legal(t.stock, small, place, t.rules, others) == expected);
      is_legal += expected ? 1 : 0;
    }
  }
  CHECK(is_legal > seeds.count);
}

TEST_CASE("the nearest place is legal, and no place tried is nearer") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_NEAREST", {30, 300, 3000}, 1);
  std::size_t found = 0;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    test::Random random(seed);
    Trial t = random_trial(random);
    t.rules.kerf_mm = 0;
    const Polygon small = test::random_shape(random, 50);
    const std::vector<Obstacle> others{{small, t.stock.outline[2] * 0.4, 30}};
    const Place hand{{random.between(-60, 160), random.between(-60, 100)}, random.between(-30, 30)};
    const Angles any{hand.angle_deg, 5};
    const auto nearest = nearest_place(t.stock, small, hand, {&any, 1}, t.rules, others);
    if (!nearest) continue;
    ++found;
    INFO("seed " << seed);
    CHECK(independently_legal(t.stock, small, *nearest, t.rules, others));
    if (nearest->angle_deg != hand.angle_deg) continue;
    const double reach = glm::distance(nearest->at_mm, hand.at_mm);
    for (int i = 0; i < 500 && reach > 0.01; ++i) {
      const double angle = random.between(0, 6.283185307179586), part = std::sqrt(random.between(0, 1));
      // Places are to the micrometre: the nearest may be off by the diagonal of two steps.
      const Vec2 at = hand.at_mm + (reach - 0.003) * part * Vec2{std::cos(angle), std::sin(angle)};
      REQUIRE_FALSE(independently_legal(t.stock, small, {at, hand.angle_deg}, t.rules, others));
    }
  }
  CHECK(found > seeds.count / 4);
}

TEST_CASE("what is wrong with a problem is said by field") {
  const auto says = [](const auto& spoil, const std::string& words) {
    Problem problem;
    problem.stocks = {{.outline = test::rectangle(100, 40)}};
    problem.demands = {{{Way{{Part{test::rectangle(20, 10), {{0, {{0, 5}}, 0}}}}, false, 0}}}};
    spoil(problem);
    CHECK_THROWS_WITH(check(problem), Catch::Matchers::StartsWith(words));
  };
  says([](Problem& p) { p.stocks[0].outline.resize(2); }, "stocks[0].outline: must have at least 3 corners");
  says([](Problem& p) { std::swap(p.stocks[0].outline[0], p.stocks[0].outline[1]); },
       "stocks[0].outline: must not cross");
  says([](Problem& p) { p.stocks[0].outline[1].x = 1e9; }, "stocks[0].outline[1]: must be within");
  says([](Problem& p) { p.stocks[0].outline[1].x = std::nan(""); }, "stocks[0].outline[1]: must be within");
  says([](Problem& p) { p.stocks[0].trim_mm = -1; }, "stocks[0].trim_mm: must be from 0");
  says([](Problem& p) { p.stocks[0].excludes = {3}; }, "stocks[0].excludes[0]: is 3");
  says([](Problem& p) { p.stocks[0].keep_outs = {{{0, 0}, {1, 0}}}; }, "stocks[0].keep_outs[0]: must have");
  says([](Problem& p) { p.demands[0].ways[0].parts[0].candidates[0].stock = 1; },
       "demands[0].ways[0].parts[0].candidates[0].stock");
  says([](Problem& p) { p.demands[0].ways[0].parts[0].candidates[0].angles[0].play_deg = 181; },
       "demands[0].ways[0].parts[0].candidates[0].angles[0].play_deg");
  says([](Problem& p) { p.demands[0].ways[0].parts[0].shape = test::rectangle(20, 0.001); },
       "demands[0].ways[0].parts[0].shape: must be at least");
  says([](Problem& p) { p.demands[0].ways[0].parts.clear(); }, "demands[0].ways[0].parts");
  says([](Problem& p) { p.rules.kerf_mm = std::nan(""); }, "rules.kerf_mm");
  says(
      [](Problem& p) {
        p.rules.order = {Preference::fewest_cuts, Preference::fewest_cuts};
      },
      "rules.order[1]");
  says([](Problem& p) { p.fixed = {{0, 1, 0, 0}}; }, "fixed[0].way");
}
