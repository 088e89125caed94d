#include "patterns.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "sawing.hpp"

namespace haftwright::nesting::inner {

namespace {

/// A shape that can move by this many micrometres is not at rest; rounding lets it move by less.
constexpr Int kAtRest = 5;
constexpr std::size_t kKept = 3;         ///< arrangements of one set of kinds, where not all are kept
constexpr std::size_t kTurnsOfKind = 3;  ///< turns of a kind tried there
constexpr std::size_t kPlacesKept = 6;   ///< places of a shape tried there

struct Arrangement {
  std::vector<Item> items;  ///< sorted
  std::int64_t worth = 0;
  std::int64_t penalty = 0;
  double spread = 0;  ///< area of the box about all, mm2
  std::optional<Box> clear;
  mutable std::optional<std::int64_t> cuts = {};
};
using Kinds = std::vector<std::size_t>;  ///< sorted
using Level = std::map<Kinds, std::vector<Arrangement>>;

class Search {
 public:
  Search(const ReadyStock& stock, const Problem& problem, const Tasks& tasks, const Watch& watch)
      : stock_(stock),
        rules_(problem.rules),
        tasks_(tasks),
        watch_(watch),
        order_(full_order(problem.rules)) {
    kerf_ = to_grid(rules_.kerf_mm);
    for (const Path& path : stock.fixed) fixed_area_ += area_mm2(path);
  }

  /// False when it would have taken more than `looks`. Corners are bits: 1 right, 2 top.
  bool try_all(std::size_t looks) {
    all_ = true;
    looks_ = looks;
    const int corners = all_corners_alike() ? 1 : 4;
    for (int corner = 0; corner < corners && looks_ > 0; ++corner) {
      corner_ = corner;
      run();
    }
    return looks_ > 0;
  }
  void try_promising(std::size_t looks) {
    all_ = false;
    looks_ = looks;
    keep_few_turns();
    run();
  }

  std::vector<Pattern> take() {
    std::vector<Pattern> patterns;
    for (auto& [kinds, arrangement] : best_) {
      if (!whole(kinds)) continue;
      Pattern pattern;
      pattern.counts = counts_of(kinds);
      pattern.clear = arrangement.clear;
      pattern.by = amounts(arrangement);
      for (const Item& item : arrangement.items) {
        const Option& option = stock_.options[item.option];
        pattern.items.push_back({option.kind, item.at, option.angle_deg});
      }
      patterns.push_back(std::move(pattern));
    }
    return patterns;
  }

 private:
  /// What is pushed to one corner is a mirror image of what is pushed to another.
  bool all_corners_alike() const {
    const auto upright = [](const Path& path) {
      return path.size() == 4 && (path[0].X == path[1].X || path[0].Y == path[1].Y) &&
             (path[1].X == path[2].X || path[1].Y == path[2].Y) &&
             (path[2].X == path[3].X || path[2].Y == path[3].Y);
    };
    return stock_.room.usable.size() == 1 && upright(stock_.room.usable[0]) &&
           stock_.room.keep_outs.empty() && stock_.fixed.empty() && upright(stock_.outline) &&
           std::all_of(stock_.options.begin(), stock_.options.end(),
                       [&](const Option& option) { return upright(option.shape.full.outline); });
  }

  void keep_few_turns() {
    std::vector<std::size_t> seen(tasks_.kinds.size(), 0);
    usable_.assign(stock_.options.size(), 0);
    for (std::size_t i = 0; i < stock_.options.size(); ++i)
      if (seen[stock_.options[i].kind]++ < kTurnsOfKind) usable_[i] = 1;
  }

  std::vector<std::uint8_t> counts_of(const Kinds& kinds) const {
    std::vector<std::uint8_t> counts(tasks_.kinds.size(), 0);
    for (const std::size_t kind : kinds) ++counts[kind];
    return counts;
  }
  /// There are demands enough for these kinds.
  bool wanted(const Kinds& kinds, std::size_t added) const {
    if (kinds.size() >= 200) return false;
    const std::size_t group = tasks_.kinds[added].group;
    return demands_needed(tasks_, group, counts_of(kinds)) <= tasks_.groups[group].demands.size();
  }
  /// Ways whose parts must lie on one stock have all of them.
  bool whole(const Kinds& kinds) const {
    const std::vector<std::uint8_t> counts = counts_of(kinds);
    for (const Group& group : tasks_.groups)
      for (const GroupWay& way : group.ways)
        for (const std::size_t kind : way.kinds)
          if (way.one_stock && counts[kind] != counts[way.kinds[0]]) return false;
    return true;
  }

  void run() {
    Level level;
    level[{}].push_back({});
    while (!level.empty() && looks_ > 0) {
      Level above;
      // What can't be finished is not begun.
      if (all_ && looks_for(level) >= looks_) looks_ = 0;
      for (const auto& [kinds, arrangements] : level) grow(kinds, arrangements, above);
      for (auto& [kinds, arrangements] : above) settle(kinds, arrangements);
      level = std::move(above);
      if (!all_) keep_fullest(level);
    }
  }

  /// Sets that leave little empty, and some with each kind, as many as the looks that remain allow for.
  void keep_fullest(Level& level) const {
    const std::size_t most = std::max<std::size_t>(20, looks_ / (4 * stock_.options.size()));
    if (level.size() <= most) return;
    constexpr std::size_t of_each_kind = 3;
    std::vector<std::pair<double, const Kinds*>> ranked;
    for (const auto& [kinds, arrangements] : level)
      ranked.emplace_back(-area_of(arrangements[0].items), &kinds);
    std::sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) {
      return a.first != b.first ? a.first < b.first : *a.second < *b.second;
    });
    std::vector<std::size_t> kept_with(tasks_.kinds.size(), 0);
    Level kept;
    for (const auto& [area, kinds] : ranked) {
      const auto is_rare = [&](std::size_t kind) { return kept_with[kind] < of_each_kind; };
      if (kept.size() >= most && std::none_of(kinds->begin(), kinds->end(), is_rare)) continue;
      for (const std::size_t kind : *kinds) ++kept_with[kind];
      kept[*kinds] = level.at(*kinds);
    }
    level = std::move(kept);
  }

  Kinds with(const Kinds& kinds, std::size_t added) const {
    Kinds more = kinds;
    more.insert(std::upper_bound(more.begin(), more.end(), added), added);
    return more;
  }

  bool has_area_for(const Arrangement& arrangement, const Option& option) const {
    return area_of(arrangement.items) + option.area_mm2 <= stock_.room.area_mm2 * (1 + 1e-6);
  }

  std::size_t looks_for(const Level& level) const {
    std::size_t looks = 0;
    for (const auto& [kinds, arrangements] : level)
      for (const Option& option : stock_.options)
        if (has_area_for(arrangements[0], option) && wanted(with(kinds, option.kind), option.kind))
          looks += arrangements.size();
    return looks;
  }

  void grow(const Kinds& kinds, const std::vector<Arrangement>& arrangements, Level& above) {
    for (std::size_t o = 0; o < stock_.options.size(); ++o) {
      if (!all_ && !usable_[o]) continue;
      const Option& option = stock_.options[o];
      const Kinds more = with(kinds, option.kind);
      if (!wanted(more, option.kind)) continue;
      for (const Arrangement& arrangement : arrangements) {
        if (looks_ == 0 || watch_.over()) {
          looks_ = 0;
          return;
        }
        extend(arrangement, o, more, above);
      }
    }
  }

  std::vector<Path> outlines_of(const std::vector<Item>& items) const {
    std::vector<Path> outlines = stock_.fixed;
    for (const Item& item : items)
      outlines.push_back(moved(stock_.options[item.option].shape.full.outline, item.at));
    return outlines;
  }

  double area_of(const std::vector<Item>& items) const {
    double area = fixed_area_;
    for (const Item& item : items) area += stock_.options[item.option].area_mm2;
    return area;
  }

  bool at_rest(const Turned& shape, const Others& others, const Point& at) const {
    const auto can_go = [&](Int dx, Int dy) {
      return legal_at(stock_.room, shape.full, others, {at.X + dx, at.Y + dy}) &&
             !(others.through && stopped_by_cut(shape.full.outline, others, at, {dx, dy}));
    };
    const bool left = can_go(-kAtRest, 0), down = can_go(0, -kAtRest);
    if (all_) {
      const bool across = (corner_ & 1) ? can_go(kAtRest, 0) : left;
      return !across && !((corner_ & 2) ? can_go(0, kAtRest) : down);
    }
    return (!left || !can_go(kAtRest, 0)) && (!down || !can_go(0, kAtRest));
  }

  void extend(const Arrangement& arrangement, std::size_t o, const Kinds& more, Level& above) {
    const Option& option = stock_.options[o];
    if (!has_area_for(arrangement, option)) return;
    --looks_;
    Others others{outlines_of(arrangement.items), kerf_, all_ && rules_.straight_cuts};
    std::vector<Arrangement> found;
    for (const Point& at : free_corners(stock_.room, option.shape, others)) {
      if (!at_rest(option.shape, others, at)) continue;
      Arrangement next = arrangement;
      next.cuts.reset();
      next.items.insert(std::upper_bound(next.items.begin(), next.items.end(), Item{o, at}), Item{o, at});
      next.penalty += option.penalty;
      others.outlines.push_back(moved(option.shape.full.outline, at));
      if (!rules_.straight_cuts || partable(others.outlines, kerf_)) {
        if (!all_) value(next, others.outlines);
        found.push_back(std::move(next));
      }
      others.outlines.pop_back();
    }
    if (!all_) keep_best(found, kPlacesKept);
    std::vector<Arrangement>& known = above[more];
    std::move(found.begin(), found.end(), std::back_inserter(known));
    if (known.empty()) above.erase(more);
  }

  void value(Arrangement& arrangement, const std::vector<Path>& outlines) const {
    const std::optional<Clear> clear = best_clear(stock_, outlines, rules_);
    arrangement.worth = clear ? clear->worth : 0;
    if (clear) arrangement.clear = clear->box;
    Path all;
    for (const Path& path : outlines) all.insert(all.end(), path.begin(), path.end());
    const Box box = box_of(all);
    arrangement.spread = area_mm2(corners_of(box));
  }

  static void keep_best(std::vector<Arrangement>& arrangements, std::size_t most) {
    std::sort(arrangements.begin(), arrangements.end(), [](const Arrangement& a, const Arrangement& b) {
      if (a.worth != b.worth) return a.worth > b.worth;
      if (a.spread != b.spread) return a.spread < b.spread;
      if (a.penalty != b.penalty) return a.penalty < b.penalty;
      return a.items < b.items;
    });
    if (arrangements.size() > most) arrangements.resize(most);
  }

  /// Each arrangement once; the best of them is remembered.
  void settle(const Kinds& kinds, std::vector<Arrangement>& arrangements) {
    std::sort(arrangements.begin(), arrangements.end(),
              [](const Arrangement& a, const Arrangement& b) { return a.items < b.items; });
    arrangements.erase(
        std::unique(arrangements.begin(), arrangements.end(),
                    [](const Arrangement& a, const Arrangement& b) { return a.items == b.items; }),
        arrangements.end());
    const bool counts = whole(kinds);
    for (Arrangement& arrangement : arrangements) {
      if (all_ && counts) value(arrangement, outlines_of(arrangement.items));
      if (!counts) continue;
      const auto [at, is_new] = best_.try_emplace(kinds, arrangement);
      if (!is_new && better(arrangement, at->second)) at->second = arrangement;
    }
    if (!all_) keep_best(arrangements, kKept);
  }

  std::int64_t cuts_of(const Arrangement& arrangement) const {
    if (!rules_.straight_cuts) return 0;
    if (!arrangement.cuts)
      arrangement.cuts = static_cast<std::int64_t>(
          saw(stock_.outline, outlines_of(arrangement.items), arrangement.clear, kerf_).cuts.size());
    return *arrangement.cuts;
  }

  std::int64_t amount(const Arrangement& arrangement, Preference preference) const {
    switch (preference) {
      case Preference::small_stocks:
        return stock_.fixed.empty() ? std::llround(stock_.room.area_mm2) : 0;
      case Preference::useful_leftover:
        return stock_.worth - arrangement.worth;
      case Preference::fewest_cuts:
        return cuts_of(arrangement) - stock_.cuts;
      case Preference::least_penalty:
        break;
    }
    return arrangement.penalty;
  }
  Amounts amounts(const Arrangement& arrangement) const {
    Amounts by{};
    for (std::size_t i = 0; i < kPreferences; ++i) by[i] = amount(arrangement, static_cast<Preference>(i));
    return by;
  }
  /// Cuts are counted only where what stands before them does not decide.
  bool better(const Arrangement& a, const Arrangement& b) const {
    for (const Preference preference : order_) {
      const std::int64_t u = amount(a, preference), v = amount(b, preference);
      if (u != v) return u < v;
    }
    return a.items < b.items;
  }

  const ReadyStock& stock_;
  const Rules& rules_;
  const Tasks& tasks_;
  const Watch& watch_;
  std::array<Preference, kPreferences> order_;
  Int kerf_ = 0;
  double fixed_area_ = 0;
  bool all_ = true;
  int corner_ = 0;
  std::size_t looks_ = 0;
  std::vector<char> usable_;
  std::map<Kinds, Arrangement> best_;
};

}  // namespace

Patterns patterns_on(const ReadyStock& stock, const Problem& problem, const Tasks& tasks,
                     const Effort& effort, const Watch& watch) {
  Patterns patterns;
  if (stock.options.empty()) return patterns;
  Search search(stock, problem, tasks, watch);
  patterns.complete = effort.looks_for_all > 0 && search.try_all(effort.looks_for_all);
  if (!patterns.complete) search.try_promising(effort.looks);
  patterns.all = search.take();
  return patterns;
}

}  // namespace haftwright::nesting::inner
