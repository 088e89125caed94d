// One run of the choice over all stocks.
#include <algorithm>
#include <set>
#include <string>
#include <unordered_map>

#include "assignment.hpp"

namespace haftwright::nesting::inner {

namespace {

constexpr std::size_t kNoStep = SIZE_MAX;

struct Cost {
  std::int64_t rank = 0;
  Amounts by{};
};

/// What has been placed: how many demands of each group, and parts on their own; behind that, within a family
/// of stocks, which of them are used.
struct State {
  std::string key;
  Cost cost;
  std::uint64_t full = 0;  ///< groups, by bit, all of whose demands are taken
  std::size_t step = kNoStep;
};
struct Step {
  std::size_t offer = 0;
  std::size_t before = kNoStep;
};

}  // namespace

class Course {
 public:
  Course(const Assignment& assignment, const std::vector<std::size_t>& forbidden, std::size_t most_states,
         const Watch& watch)
      : a_(assignment), forbidden_(forbidden), most_states_(most_states), watch_(watch) {
    State start;
    start.key.assign(a_.slots_, '\0');
    states_.push_back(start);
  }

  void set_limit(const Value& value) { limit_ = value; }

  bool take(const std::vector<std::size_t>& offers) {
    for (const std::size_t offer : offers) {
      State next;
      if (!apply(states_[0], offer, next)) return false;
      states_[0] = next;
      taken_stocks_.push_back(a_.offers_[offer].stock);
    }
    return true;
  }

  void run() {
    const std::vector<Offer>& offers = a_.offers_;
    for (std::size_t from = 0; from < offers.size() && !watch_.over();) {
      std::size_t to = from;
      while (to < offers.size() && offers[to].family == offers[from].family) ++to;
      family(from, to);
      thin_out();
      from = to;
    }
    complete_ = complete_ && !watch_.over();
  }

  bool complete() const { return complete_; }
  std::optional<Chosen> best() const {
    std::optional<Chosen> best;
    for (const State& state : states_) {
      if (has_loose_parts(state)) continue;
      const Value value = value_of(state);
      if (best && compare(best->value, value, a_.problem_.rules).first_is_better) continue;
      if (best && best->value == value) continue;
      best = Chosen{{}, value, complete_};
      for (std::size_t s = state.step; s != kNoStep; s = steps_[s].before)
        best->offers.push_back(steps_[s].offer);
      std::sort(best->offers.begin(), best->offers.end());
    }
    return best;
  }

 private:
  bool has_loose_parts(const State& state) const {
    return std::any_of(state.key.begin() + static_cast<std::ptrdiff_t>(a_.tasks_.groups.size()),
                       state.key.end(), [](char c) { return c != 0; });
  }

  Value value_of(const State& state) const {
    Value value;
    for (std::size_t g = 0; g < a_.tasks_.groups.size(); ++g)
      value.unplaced += static_cast<std::int64_t>(a_.tasks_.groups[g].demands.size()) - state.key[g];
    value.rank = state.cost.rank;
    value.by = state.cost.by;
    return value;
  }

  /// What this state can't come below once all demands are served.
  Value least_of(const State& state) const {
    Value value{0, state.cost.rank, state.cost.by};
    for (std::size_t g = 0; g < a_.tasks_.groups.size(); ++g) {
      const Group& group = a_.tasks_.groups[g];
      std::int64_t open = static_cast<std::int64_t>(group.demands.size()) - state.key[g];
      for (const GroupWay& way : group.ways) {
        if (way.one_stock) continue;
        char most = 0;
        for (const std::size_t kind : way.kinds) most = std::max(most, state.key[a_.slot_of_kind_[kind]]);
        open -= most;
      }
      value.rank += open * a_.rank_share_[g];
      for (std::size_t i = 0; i < kPreferences; ++i) value.by[i] += open * a_.share_[g][i];
    }
    return value;
  }

  /// False where the offer asks for more than is wanted.
  bool apply(const State& state, std::size_t offer, State& next) {
    const Assignment::Effect& effect = a_.effects_[offer];
    next = state;
    for (const auto& [slot, number] : effect.adds)
      next.key[slot] = static_cast<char>(next.key[slot] + static_cast<char>(number));
    for (const std::size_t g : effect.groups)
      if (!settle_group(g, next)) return false;
    next.cost.rank += effect.rank;
    for (std::size_t i = 0; i < kPreferences; ++i) next.cost.by[i] += a_.offers_[offer].data->by[i];
    next.step = steps_.size();
    steps_.push_back({offer, state.step});
    return true;
  }

  /// Parts that are together now make a served demand. False: more than there are demands.
  bool settle_group(std::size_t g, State& state) const {
    const Group& group = a_.tasks_.groups[g];
    int taken = 0;
    for (const GroupWay& way : group.ways) {
      if (way.one_stock) continue;
      char least = 127, most = 0;
      for (const std::size_t kind : way.kinds) {
        least = std::min(least, state.key[a_.slot_of_kind_[kind]]);
        most = std::max(most, state.key[a_.slot_of_kind_[kind]]);
      }
      for (const std::size_t kind : way.kinds) {
        char& count = state.key[a_.slot_of_kind_[kind]];
        count = static_cast<char>(count - least);
      }
      state.key[g] = static_cast<char>(state.key[g] + least);
      taken += most - least;
    }
    if (state.key[g] + taken > static_cast<int>(group.demands.size())) return false;
    if (g < 64 && state.key[g] == static_cast<int>(group.demands.size())) state.full |= std::uint64_t{1} << g;
    return true;
  }

  bool allowed(const Offer& offer) const {
    return std::find(forbidden_.begin(), forbidden_.end(), offer.alike) == forbidden_.end() &&
           std::none_of(taken_stocks_.begin(), taken_stocks_.end(), [&](std::size_t stock) {
             return stock == offer.stock || excluded(stock, offer.stock);
           });
  }
  bool excluded(std::size_t a, std::size_t b) const {
    const auto names = [&](std::size_t one, std::size_t other) {
      const std::vector<std::size_t>& list = a_.problem_.stocks[one].excludes;
      return std::find(list.begin(), list.end(), other) != list.end();
    };
    return names(a, b) || names(b, a);
  }

  /// The offers of stocks that exclude each other: with one stock each state before takes one offer or none;
  /// with more each takes any that go together.
  void family(std::size_t from, std::size_t to) {
    std::vector<std::size_t> stocks;
    for (std::size_t i = from; i < to; ++i)
      if (stocks.empty() || stocks.back() != a_.offers_[i].stock) stocks.push_back(a_.offers_[i].stock);
    const bool one_only = all_exclude_each_other(stocks);
    std::vector<std::size_t> usable;
    for (std::size_t i = from; i < to; ++i)
      if (allowed(a_.offers_[i])) usable.push_back(i);
    if (usable.empty()) return;
    if (one_only) {
      apply_all(usable, {}, 0);
      return;
    }
    for (State& state : states_) state.key.append(stocks.size(), '\0');
    for (std::size_t s = 0; s < stocks.size(); ++s) {
      std::vector<std::size_t> here;
      for (const std::size_t i : usable)
        if (a_.offers_[i].stock == stocks[s]) here.push_back(i);
      std::vector<std::size_t> bars;
      for (std::size_t t = 0; t < s; ++t)
        if (excluded(stocks[s], stocks[t])) bars.push_back(a_.slots_ + t);
      apply_all(here, bars, a_.slots_ + s);
    }
    merge_without_marks();
  }

  bool all_exclude_each_other(const std::vector<std::size_t>& stocks) const {
    for (std::size_t i = 0; i < stocks.size(); ++i)
      for (std::size_t j = i + 1; j < stocks.size(); ++j)
        if (!excluded(stocks[i], stocks[j])) return false;
    return true;
  }

  bool cheaper(const Cost& a, const Cost& b) const {
    return a.rank != b.rank ? a.rank < b.rank : compare_by(a.by, b.by, a_.order_) < 0;
  }

  /// Each state, as it was before, with each of the offers. `bars`: marks that must not be set; `mark`: the
  /// one to set.
  void apply_all(const std::vector<std::size_t>& offers, const std::vector<std::size_t>& bars,
                 std::size_t mark) {
    std::unordered_map<std::string, std::size_t> known;
    for (std::size_t i = 0; i < states_.size(); ++i) known.emplace(states_[i].key, i);
    const std::vector<State> before = states_;
    State next;
    for (const State& state : before) {
      if (std::any_of(bars.begin(), bars.end(), [&](std::size_t bar) { return state.key[bar] != 0; }))
        continue;
      for (const std::size_t offer : offers) {
        if ((state.full & a_.effects_[offer].serves) != 0) continue;
        const std::size_t steps = steps_.size();
        if (!apply(state, offer, next)) continue;
        if (mark > 0) next.key[mark] = 1;
        if (limit_ && compare(*limit_, least_of(next), a_.problem_.rules).first_is_better) {
          steps_.resize(steps);
          continue;
        }
        const auto [at, is_new] = known.emplace(next.key, states_.size());
        if (is_new)
          states_.push_back(next);
        else if (cheaper(next.cost, states_[at->second].cost))
          states_[at->second] = next;
        else
          steps_.resize(steps);
      }
    }
  }

  void merge_without_marks() {
    std::unordered_map<std::string, std::size_t> known;
    std::vector<State> merged;
    for (State& state : states_) {
      state.key.resize(a_.slots_);
      const auto [at, is_new] = known.emplace(state.key, merged.size());
      if (is_new)
        merged.push_back(std::move(state));
      else if (cheaper(state.cost, merged[at->second].cost))
        merged[at->second] = std::move(state);
    }
    states_ = std::move(merged);
  }

  std::size_t served(const State& state) const {
    std::size_t sum = 0;
    for (std::size_t g = 0; g < a_.tasks_.groups.size(); ++g) sum += static_cast<std::size_t>(state.key[g]);
    return sum;
  }

  /// Of the states that serve equally many demands the best are kept, as many of each: what serves few costs
  /// little yet and would else crowd out the rest.
  void thin_out() {
    if (states_.size() <= most_states_) return;
    complete_ = false;
    struct Ranked {
      std::size_t served;
      Value value;
      std::size_t index;
    };
    std::vector<Ranked> ranked;
    std::set<std::size_t> numbers;
    for (std::size_t i = 0; i < states_.size(); ++i) {
      ranked.push_back({served(states_[i]), least_of(states_[i]), i});
      numbers.insert(ranked.back().served);
    }
    std::sort(ranked.begin(), ranked.end(), [&](const Ranked& a, const Ranked& b) {
      if (a.served != b.served) return a.served > b.served;
      const Difference difference = compare(a.value, b.value, a_.problem_.rules);
      return difference.what == Decision::none ? a.index < b.index : difference.first_is_better;
    });
    const std::size_t of_each = std::max<std::size_t>(most_states_ / numbers.size(), 1);
    std::vector<State> kept;
    for (std::size_t i = 0, run = 0; i < ranked.size(); ++i) {
      run = i > 0 && ranked[i].served == ranked[i - 1].served ? run + 1 : 0;
      if (run < of_each) kept.push_back(std::move(states_[ranked[i].index]));
    }
    states_ = std::move(kept);
  }

  const Assignment& a_;
  const std::vector<std::size_t>& forbidden_;
  std::size_t most_states_;
  const Watch& watch_;
  std::vector<State> states_;
  std::vector<Step> steps_;
  std::vector<std::size_t> taken_stocks_;
  std::optional<Value> limit_;  ///< of a choice that is known
  bool complete_ = true;
};

std::optional<Chosen> Assignment::best(const std::vector<std::size_t>& taken,
                                       const std::vector<std::size_t>& forbidden, std::size_t most_states,
                                       const Watch& watch) const {
  constexpr std::size_t quick_states = 200;
  Course quick(*this, forbidden, std::min(quick_states, most_states), watch);
  if (!quick.take(taken)) return std::nullopt;
  quick.run();
  std::optional<Chosen> known = quick.best();
  if (known && known->complete) return known;
  Course course(*this, forbidden, most_states, watch);
  course.take(taken);
  if (known && known->value.unplaced == 0) course.set_limit(known->value);
  course.run();
  std::optional<Chosen> best = course.best();
  if (!best || (known && compare(known->value, best->value, problem_.rules).first_is_better)) {
    if (known) known->complete = course.complete();
    return known;
  }
  return best;
}

}  // namespace haftwright::nesting::inner
