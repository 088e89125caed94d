// Small problems of rectangles at one angle, against a search that tries everything.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "nesting/checker.hpp"
#include "nesting/random_problem.hpp"
#include "support/seeds.hpp"

using namespace haftwright;
using namespace haftwright::nesting;

namespace {

/// All in micrometres.
struct Rect {
  std::int64_t x = 0, y = 0, length = 0, width = 0;
};

bool far_enough(const Rect& a, const Rect& b, std::int64_t kerf) {
  return a.x + a.length + kerf <= b.x || b.x + b.length + kerf <= a.x || a.y + a.width + kerf <= b.y ||
         b.y + b.width + kerf <= a.y;
}

/// Cuts from side to side can part them.
bool can_be_sawn(const std::vector<Rect>& rects, std::int64_t kerf) {
  if (rects.size() < 2) return true;
  for (const bool upright : {true, false})
    for (const Rect& r : rects) {
      const std::int64_t cut = upright ? r.x + r.length : r.y + r.width;
      std::vector<Rect> low, high;
      bool touched = false;
      for (const Rect& s : rects) {
        const std::int64_t from = upright ? s.x : s.y, to = from + (upright ? s.length : s.width);
        if (to <= cut)
          low.push_back(s);
        else if (from >= cut + kerf)
          high.push_back(s);
        else
          touched = true;
      }
      if (!touched && !high.empty() && can_be_sawn(low, kerf) && can_be_sawn(high, kerf)) return true;
    }
  return false;
}

std::int64_t worth(const Rect& r, const Rules& rules) {
  const double length = static_cast<double>(r.length) / 1000, width = static_cast<double>(r.width) / 1000;
  if (length < rules.useful_length_mm || width < rules.useful_width_mm) return 0;
  return std::llround(std::pow(length * width, 1.1));
}

/// Of the most valuable clear rectangle that can be sawn off too, among all whose sides are those of the
/// stock or a kerf from a placed one.
std::int64_t best_leftover(const Rect& stock, const std::vector<Rect>& placed, const Rules& rules) {
  const std::int64_t kerf = std::llround(rules.kerf_mm * 1000);
  std::vector<std::int64_t> left{0}, right{stock.length}, bottom{0}, top{stock.width};
  for (const Rect& r : placed) {
    left.push_back(r.x + r.length + kerf);
    right.push_back(r.x - kerf);
    bottom.push_back(r.y + r.width + kerf);
    top.push_back(r.y - kerf);
  }
  std::int64_t best = 0;
  for (const std::int64_t x : left)
    for (const std::int64_t to_x : right)
      for (const std::int64_t y : bottom)
        for (const std::int64_t to_y : top) {
          const Rect clear{x, y, to_x - x, to_y - y};
          if (clear.length <= 0 || clear.width <= 0 || worth(clear, rules) <= best) continue;
          if (!std::all_of(placed.begin(), placed.end(),
                           [&](const Rect& r) { return far_enough(r, clear, kerf); }))
            continue;
          std::vector<Rect> all = placed;
          all.push_back(clear);
          if (can_be_sawn(all, kerf)) best = worth(clear, rules);
        }
  return best;
}

struct Everything {
  Rect stock;
  Rules rules;
  std::vector<Rect> blanks;
  std::vector<std::int64_t> xs, ys;  ///< where sums of other blanks and kerfs reach
  std::vector<Rect> placed = {};
  std::optional<std::int64_t> best = {};  ///< worth left

  void search() {
    const std::int64_t kerf = std::llround(rules.kerf_mm * 1000);
    if (placed.size() == blanks.size()) {
      const std::int64_t left = best_leftover(stock, placed, rules);
      if (!best || left > *best) best = left;
      return;
    }
    Rect r = blanks[placed.size()];
    for (const std::int64_t x : xs)
      for (const std::int64_t y : ys) {
        r.x = x;
        r.y = y;
        if (x + r.length > stock.length || y + r.width > stock.width) continue;
        if (!std::all_of(placed.begin(), placed.end(), [&](const Rect& s) { return far_enough(r, s, kerf); }))
          continue;
        placed.push_back(r);
        if (can_be_sawn(placed, kerf)) search();
        placed.pop_back();
      }
  }
};

/// The worth left where these blanks are sawn from the stock; none where they can't be.
std::optional<std::int64_t> left_on(const Rect& stock, const std::vector<Rect>& blanks, const Rules& rules) {
  const std::int64_t kerf = std::llround(rules.kerf_mm * 1000);
  std::set<std::int64_t> xs{0}, ys{0};
  for (const Rect& r : blanks) {
    for (const std::int64_t x : std::vector<std::int64_t>(xs.begin(), xs.end()))
      xs.insert(x + r.length + kerf);
    for (const std::int64_t y : std::vector<std::int64_t>(ys.begin(), ys.end()))
      ys.insert(y + r.width + kerf);
  }
  double area = 0;
  for (const Rect& r : blanks) area += static_cast<double>(r.length) * static_cast<double>(r.width);
  if (area > static_cast<double>(stock.length) * static_cast<double>(stock.width)) return std::nullopt;
  Everything everything{stock, rules, blanks, {xs.begin(), xs.end()}, {ys.begin(), ys.end()}};
  everything.search();
  return everything.best;
}

using Result = std::array<std::int64_t, 3>;  ///< unplaced, area opened, worth lost

struct Small {
  Problem problem;
  std::vector<Rect> stocks, blanks;
};

Small small_problem(test::Random& random) {
  Small small;
  small.problem.rules = {random.chance(0.3) ? 0.0 : 2.0, 0, 20, 12, true, {}};
  const auto size = [&](std::size_t low, std::size_t high) {
    return static_cast<double>(random.count(low, high));
  };
  const std::size_t stocks = random.count(1, 4), blanks = random.count(2, 6);
  for (std::size_t s = 0; s < stocks; ++s) {
    const double length = size(40, 110), width = size(25, 60);
    small.problem.stocks.push_back({.outline = test::rectangle(length, width)});
    small.stocks.push_back({0, 0, std::llround(length * 1000), std::llround(width * 1000)});
  }
  for (std::size_t b = 0; b < blanks; ++b) {
    const bool again = b > 0 && random.chance(0.3);
    const double length = again ? static_cast<double>(small.blanks.back().length) / 1000 : size(18, 60);
    const double width = again ? static_cast<double>(small.blanks.back().width) / 1000 : size(14, 35);
    Part part{test::rectangle(length, width), {}};
    for (std::size_t s = 0; s < stocks; ++s) part.candidates.push_back({s, {{0, 0}}, 0});
    small.problem.demands.push_back({{Way{{part}, false, 0}}});
    small.blanks.push_back({0, 0, std::llround(length * 1000), std::llround(width * 1000)});
  }
  return small;
}

Result best_of_all(const Small& small) {
  const std::size_t sets = std::size_t{1} << small.blanks.size();
  std::map<std::size_t, Result> best{{0, {0, 0, 0}}};
  for (const Rect& stock : small.stocks) {
    const auto before = best;
    const std::int64_t whole = best_leftover(stock, {}, small.problem.rules);
    for (std::size_t set = 1; set < sets; ++set) {
      std::vector<Rect> blanks;
      for (std::size_t b = 0; b < small.blanks.size(); ++b)
        if (set >> b & 1) blanks.push_back(small.blanks[b]);
      const auto left = left_on(stock, blanks, small.problem.rules);
      if (!left) continue;
      const std::int64_t area =
          std::llround(static_cast<double>(stock.length) * static_cast<double>(stock.width) / 1e6);
      for (const auto& [had, cost] : before) {
        if (had & set) continue;
        const Result with{0, cost[1] + area, cost[2] + whole - *left};
        const auto [at, is_new] = best.try_emplace(had | set, with);
        if (!is_new) at->second = std::min(at->second, with);
      }
    }
  }
  Result result{1000, 0, 0};
  for (auto [set, cost] : best) {
    for (std::size_t b = 0; b < small.blanks.size(); ++b) cost[0] += set >> b & 1 ? 0 : 1;
    result = std::min(result, cost);
  }
  return result;
}

}  // namespace

TEST_CASE("small problems of rectangles are solved as well as by trying everything") {
  const test::Seeds seeds = test::seeds_to_try("HAFTWRIGHT_SMALL_PLANS", {4, 30, 2000}, 1);
  std::size_t proven = 0;
  std::map<std::size_t, std::size_t> by_blanks;
  for (std::uint64_t seed = seeds.first; seed < seeds.first + seeds.count; ++seed) {
    test::Random random(seed);
    const Small small = small_problem(random);
    INFO("seed " << seed);
    const Plans plans = plan(small.problem, 1);
    REQUIRE(plans.plans.size() == 1);
    const Value& value = plans.plans[0].value;
    CHECK(test::wrong_with(small.problem, plans.plans[0]) == "");
    const Result ours{value.unplaced, value.by[0], value.by[1]};
    CHECK(ours == best_of_all(small));
    CHECK(plans.plans[0].proven_best);
    proven += plans.plans[0].proven_best ? 1 : 0;
    ++by_blanks[small.blanks.size()];
  }
  WARN("proven " << proven << " of " << seeds.count << ", with six blanks " << by_blanks[6]);
}
