#include "haftwright/nesting/plan.hpp"

#include <algorithm>
#include <map>
#include <thread>

#include "telling.hpp"

namespace haftwright::nesting {

using namespace inner;

namespace {

/// For all stocks together, and the least and the most for one.
constexpr double kLooksForAll = 24'000, kLooks = 24'000;
constexpr double kLeastLooks = 60, kMostLooksForAll = 30'000, kMostLooks = 8'000;
constexpr std::size_t kStates = 20'000;
constexpr std::size_t kManyGroups = 14, kStatesOfMany = 3'000;
constexpr std::size_t kStatesOfOthers = 1'000;  ///< for the plans after the first
constexpr double kShareOfPatterns = 0.9;        ///< of the progress

/// Calls `work(i)` for all i, on several threads; progress is told on this one.
template <class Work>
void in_parallel(std::size_t count, const Running& running, double from, double to, const Work& work) {
  std::atomic<std::size_t> next = 0, done = 0;
  const auto run = [&](bool tells) {
    for (std::size_t i = next++; i < count; i = next++) {
      work(i);
      ++done;
      if (tells && running.progress)
        running.progress(from + (to - from) * static_cast<double>(done) / static_cast<double>(count));
    }
  };
  std::vector<std::jthread> others;
  for (unsigned t = 1; t < std::min<std::size_t>(running.threads, count); ++t)
    others.emplace_back(run, false);
  run(true);
}

/// For each stock the first that it can be taken for.
std::vector<std::size_t> models_of(const Problem& problem, const std::vector<char>& has_fixed) {
  std::map<std::size_t, std::vector<std::size_t>> by_mark;
  std::vector<std::size_t> models(problem.stocks.size());
  const auto offered = [&](std::size_t stock) {
    std::vector<Candidate> candidates;
    for (const Demand& demand : problem.demands)
      for (const Way& way : demand.ways)
        for (const Part& part : way.parts) {
          for (const Candidate& candidate : part.candidates)
            if (candidate.stock == stock)
              candidates.push_back({0, candidate.angles, candidate.penalty, candidate.penalty_per_deg});
          candidates.push_back({1, {}, 0});
        }
    return candidates;
  };
  for (std::size_t s = 0; s < models.size(); ++s) {
    models[s] = s;
    const Stock& stock = problem.stocks[s];
    if (stock.alike == kNoOther || has_fixed[s]) continue;
    std::vector<std::size_t>& known = by_mark[stock.alike];
    const auto same = std::find_if(known.begin(), known.end(), [&](std::size_t other) {
      const Stock& model = problem.stocks[other];
      return model.outline == stock.outline && model.keep_outs == stock.keep_outs &&
             model.trim_mm == stock.trim_mm && offered(other) == offered(s);
    });
    if (same != known.end())
      models[s] = *same;
    else
      known.push_back(s);
  }
  return models;
}

/// Stocks that exclude each other, directly or by others, get the same number: the least of theirs.
std::vector<std::size_t> families_of(const Problem& problem) {
  std::vector<std::size_t> family(problem.stocks.size());
  for (std::size_t s = 0; s < family.size(); ++s) family[s] = s;
  const auto root = [&](std::size_t s) {
    while (family[s] != s) s = family[s];
    return s;
  };
  for (std::size_t s = 0; s < family.size(); ++s)
    for (const std::size_t other : problem.stocks[s].excludes) {
      const std::size_t a = root(s), b = root(other);
      family[std::max(a, b)] = std::min(a, b);
    }
  for (std::size_t s = 0; s < family.size(); ++s) family[s] = root(s);
  return family;
}

class Planner {
 public:
  Planner(const Problem& problem, const Running& running)
      : problem_(problem), running_(running), watch_(running), tasks_(tasks_of(problem)) {}

  Plans run(std::size_t most_plans) {
    Plans plans;
    prepare();
    if (!watch_.stopped()) {
      never_fits(plans);
      choose(plans, most_plans);
    }
    plans.stopped = watch_.stopped();
    plans.out_of_time = watch_.over() && !plans.stopped;
    if (plans.stopped) plans.plans.clear();
    if (running_.progress && !plans.stopped) running_.progress(1);
    return plans;
  }

 private:
  void prepare() {
    const std::size_t count = problem_.stocks.size();
    std::vector<char> has_fixed(count, 0);
    for (const Fixed& fixed : problem_.fixed) has_fixed[fixed.stock] = 1;
    models_ = models_of(problem_, has_fixed);
    std::vector<std::size_t> models;
    for (std::size_t s = 0; s < count; ++s)
      if (models_[s] == s) models.push_back(s);
    prepared_.stocks.resize(count);
    prepared_.patterns.resize(count);
    const double ready = kShareOfPatterns / 3;
    in_parallel(models.size(), running_, 0, ready, [&](std::size_t i) {
      if (!watch_.over()) prepared_.stocks[models[i]] = make_ready(problem_, tasks_, models[i]);
    });
    models.erase(std::remove_if(models.begin(), models.end(),
                                [&](std::size_t s) { return prepared_.stocks[s].options.empty(); }),
                 models.end());
    const double share = running_.effort / static_cast<double>(std::max<std::size_t>(models.size(), 1));
    const auto looks = [&](double all, double most) {
      return static_cast<std::size_t>(
          std::clamp(all * share, kLeastLooks, most * std::max(running_.effort, 1.0)));
    };
    const Effort effort{looks(kLooksForAll, kMostLooksForAll), looks(kLooks, kMostLooks)};
    in_parallel(models.size(), running_, ready, kShareOfPatterns, [&](std::size_t i) {
      prepared_.patterns[models[i]] =
          patterns_on(prepared_.stocks[models[i]], problem_, tasks_, effort, watch_);
    });
    for (std::size_t s = 0; s < count; ++s) {
      complete_ = complete_ && prepared_.patterns[s].complete;
      if (models_[s] != s) prepared_.stocks[s] = prepared_.stocks[models_[s]];
    }
  }

  void never_fits(Plans& plans) const {
    if (watch_.over()) return;
    for (const Group& group : tasks_.groups) {
      const bool can = std::any_of(group.ways.begin(), group.ways.end(), [&](const GroupWay& way) {
        return std::all_of(way.kinds.begin(), way.kinds.end(), [&](std::size_t kind) {
          return std::any_of(prepared_.stocks.begin(), prepared_.stocks.end(), [&](const ReadyStock& stock) {
            return !stock.fits.empty() && stock.fits[kind] != 0;
          });
        });
      });
      if (!can) plans.never_fits.insert(plans.never_fits.end(), group.demands.begin(), group.demands.end());
    }
    std::sort(plans.never_fits.begin(), plans.never_fits.end());
  }

  /// A stock that what lies by hand on another one rules out.
  bool excluded_by_fixed(std::size_t stock) const {
    const auto names = [&](std::size_t one, std::size_t other) {
      const std::vector<std::size_t>& list = problem_.stocks[one].excludes;
      return std::find(list.begin(), list.end(), other) != list.end();
    };
    return std::any_of(problem_.fixed.begin(), problem_.fixed.end(), [&](const Fixed& fixed) {
      return fixed.stock != stock && (names(fixed.stock, stock) || names(stock, fixed.stock));
    });
  }

  std::vector<Offer> offers() const {
    const std::vector<std::size_t> families = families_of(problem_);
    std::vector<Offer> offers;
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> numbers;
    for (std::size_t s = 0; s < problem_.stocks.size(); ++s) {
      if (excluded_by_fixed(s)) continue;
      const std::vector<Pattern>& patterns = prepared_.patterns[models_[s]].all;
      for (std::size_t p = 0; p < patterns.size(); ++p) {
        const std::size_t alike = numbers.try_emplace({models_[s], p}, numbers.size()).first->second;
        offers.push_back({s, p, families[s], alike, &patterns[p]});
      }
    }
    std::stable_sort(offers.begin(), offers.end(), [](const Offer& a, const Offer& b) {
      return a.family != b.family ? a.family < b.family : a.stock < b.stock;
    });
    return offers;
  }

  /// E. L. Lawler, Management Science 18 (1972): of all choices but those told already, split by the first of
  /// their patterns that is left out, the best.
  void choose(Plans& plans, std::size_t most_plans) {
    struct Branch {
      std::vector<std::size_t> taken, forbidden;
      Chosen best;
    };
    const Assignment assignment(problem_, tasks_, offers(), most_plans);
    std::vector<Branch> branches;
    // Sets of many different demands are too many in any case.
    const std::size_t states = tasks_.groups.size() > kManyGroups ? kStatesOfMany : kStates;
    if (const auto first = assignment.best({}, {}, states, watch_)) branches.push_back({{}, {}, *first});
    while (!branches.empty() && plans.plans.size() < std::max<std::size_t>(most_plans, 1)) {
      const auto at =
          std::min_element(branches.begin(), branches.end(), [&](const Branch& a, const Branch& b) {
            return compare(a.best.value, b.best.value, problem_.rules).first_is_better;
          });
      const Branch branch = *at;
      branches.erase(at);
      if (!plans.plans.empty() && branch.best.value.unplaced > plans.plans[0].value.unplaced) break;
      add_plan(plans, assignment, branch.best);
      if (plans.plans.size() >= most_plans || watch_.over()) break;
      Branch next{branch.taken, branch.forbidden, {}};
      for (const std::size_t offer : branch.best.offers) {
        if (std::find(branch.taken.begin(), branch.taken.end(), offer) != branch.taken.end()) continue;
        next.forbidden = branch.forbidden;
        next.forbidden.push_back(assignment.offers()[offer].alike);
        if (const auto best = assignment.best(next.taken, next.forbidden, kStatesOfOthers, watch_))
          branches.push_back({next.taken, next.forbidden, *best});
        next.taken.push_back(offer);
      }
    }
    for (std::size_t i = 0; i + 1 < plans.plans.size(); ++i)
      plans.plans[i].against_next = compare(plans.plans[i].value, plans.plans[i + 1].value, problem_.rules);
  }

  void add_plan(Plans& plans, const Assignment& assignment, const Chosen& chosen) const {
    Plan plan = told(problem_, tasks_, prepared_, assignment.offers(), chosen);
    plan.proven_best = plans.plans.empty() && complete_ && chosen.complete && !watch_.over();
    plan.bound = plan.proven_best ? plan.value : bound(plans.never_fits.size());
    plans.plans.push_back(std::move(plan));
  }

  /// What any plan needs: each demand that can be served takes the stock of least area that holds its
  /// greatest part, all parts together lie on what is opened, and each takes its least penalty.
  Value bound(std::size_t never) const {
    Value value;
    value.unplaced = static_cast<std::int64_t>(never);
    double parts_area = 0, greatest = 0;
    std::int64_t penalty = 0;
    for (const Group& group : tasks_.groups) {
      const Needs needs = least_needs(group);
      if (!needs.possible) continue;
      const auto times = static_cast<double>(group.demands.size());
      parts_area += times * needs.area_mm2;
      greatest = std::max(greatest, needs.stock_mm2);
      penalty += static_cast<std::int64_t>(group.demands.size()) * needs.penalty;
      value.rank += static_cast<std::int64_t>(group.demands.size()) * needs.rank;
    }
    // Stocks that hold fixed parts are open already.
    if (!problem_.fixed.empty()) parts_area = greatest = 0;
    // Each opened stock's area is counted in whole mm2.
    const double rounding = 0.5 * static_cast<double>(tasks_.kinds.size() * problem_.demands.size());
    value.by[static_cast<std::size_t>(Preference::small_stocks)] =
        std::max<std::int64_t>(0, static_cast<std::int64_t>(std::max(greatest, parts_area) - rounding));
    value.by[static_cast<std::size_t>(Preference::least_penalty)] = penalty;
    return value;
  }

  struct Needs {
    bool possible = false;
    double area_mm2 = 0, stock_mm2 = 0;
    std::int64_t penalty = 0, rank = 0;
  };
  Needs needs_of(const GroupWay& way) const {
    Needs needs{true, 0, 0, 0, way.rank};
    for (const std::size_t kind : way.kinds) {
      Needs least;
      for (const ReadyStock& ready : prepared_.stocks)
        for (const Option& option : ready.options)
          if (option.kind == kind)
            least = least_of(least, {true, option.area_mm2, ready.room.area_mm2, option.penalty, 0});
      needs.possible = needs.possible && least.possible;
      needs.stock_mm2 = std::max(needs.stock_mm2, least.stock_mm2);
      needs.area_mm2 += least.area_mm2;
      needs.penalty += least.penalty;
    }
    return needs;
  }
  static Needs least_of(const Needs& a, const Needs& b) {
    if (!a.possible || !b.possible) return a.possible ? a : b;
    return {true, std::min(a.area_mm2, b.area_mm2), std::min(a.stock_mm2, b.stock_mm2),
            std::min(a.penalty, b.penalty), std::min(a.rank, b.rank)};
  }
  Needs least_needs(const Group& group) const {
    Needs least;
    for (const GroupWay& way : group.ways) least = least_of(least, needs_of(way));
    return least;
  }

  const Problem& problem_;
  const Running& running_;
  Watch watch_;
  Tasks tasks_;
  Prepared prepared_;
  std::vector<std::size_t> models_;
  bool complete_ = true;
};

}  // namespace

Plans plan(const Problem& problem, std::size_t most_plans, const Running& running) {
  check(problem);
  return Planner(problem, running).run(most_plans);
}

}  // namespace haftwright::nesting
