#include "rods.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "haftwright/offcuts/find.hpp"

namespace haftwright::cutting {
namespace {

/// A rod serves where its diameter and bore are within this of what the project has: the drill for the pin is
/// chosen to a few hundredths (common practice).
constexpr double kSameStock_mm = 0.02;

bool serves(const PinStock& rod, const PinStock& pin) {
  return rod.material == pin.material && std::abs(rod.diameter_mm() - pin.diameter_mm()) <= kSameStock_mm &&
         std::abs(rod.bore_mm - pin.bore_mm) <= kSameStock_mm;
}

struct Rod {
  std::size_t index = 0;
  std::size_t copy = 0;
  double length_mm = 0;
  double left_mm = 0;
  bool begun = false;
};

/// Goes through all ways to take pins of one stock from rods, the longest pin first.
class Sawing {
 public:
  Sawing(const Needs& needs, std::vector<std::size_t> pins, std::vector<Rod> rods, double kerf_mm)
      : needs_(needs), pins_(std::move(pins)), rods_(std::move(rods)), kerf_mm_(kerf_mm) {
    std::ranges::stable_sort(pins_, std::greater(),
                             [&](std::size_t pin) { return needs_.pins[pin].length_mm; });
    std::ranges::stable_sort(rods_, {}, &Rod::length_mm);
    from_.assign(pins_.size(), kNone);
  }

  void saw() {
    take(0);
    rods_at_best_ = rods_;
    for (Rod& rod : rods_at_best_) rod = {rod.index, rod.copy, rod.length_mm, rod.length_mm, false};
    for (std::size_t i = 0; i < pins_.size(); ++i)
      if (best_from_[i] != kNone) saw_off(rods_at_best_[best_from_[i]], needs_.pins[pins_[i]].length_mm);
  }

  void add_to(RodPlan& plan) const {
    for (std::size_t r = 0; r < rods_at_best_.size(); ++r) {
      if (!rods_at_best_[r].begun) continue;
      RodUse use{rods_at_best_[r].index, rods_at_best_[r].copy, {}, rods_at_best_[r].left_mm};
      for (std::size_t i = 0; i < pins_.size(); ++i)
        if (best_from_[i] == r) use.pins.push_back(pins_[i]);
      plan.uses.push_back(std::move(use));
    }
    for (std::size_t i = 0; i < pins_.size(); ++i)
      if (best_from_[i] == kNone) plan.without.push_back(pins_[i]);
  }

 private:
  static constexpr std::size_t kNone = SIZE_MAX;
  using Cost = std::tuple<std::size_t, double>;  // pins without, length begun

  /// The saw takes its kerf too, where there is that much left.
  void saw_off(Rod& rod, double length_mm) const {
    rod.left_mm = std::max(0.0, rod.left_mm - length_mm - kerf_mm_);
    rod.begun = true;
  }

  void take(std::size_t pin) {
    if (best_ && cost_ >= *best_) return;
    if (pin == pins_.size()) {
      best_ = cost_;
      best_from_ = from_;
      return;
    }
    const double length = needs_.pins[pins_[pin]].length_mm;
    const bool every_way = pins_.size() <= kMostPinsExactly;
    bool taken = false;
    for (std::size_t r = 0; r < rods_.size() && (every_way || !taken); ++r) {
      if (rods_[r].left_mm < length || as_an_earlier_one(r)) continue;
      taken = true;
      const Rod before = rods_[r];
      const Cost cost_before = cost_;
      if (!before.begun) std::get<1>(cost_) += before.length_mm;
      saw_off(rods_[r], length);
      from_[pin] = r;
      take(pin + 1);
      from_[pin] = kNone;
      rods_[r] = before;
      cost_ = cost_before;
    }
    if (taken && !every_way) return;
    ++std::get<0>(cost_);
    take(pin + 1);
    --std::get<0>(cost_);
  }

  bool as_an_earlier_one(std::size_t r) const {
    for (std::size_t i = 0; i < r; ++i)
      if (rods_[i].begun == rods_[r].begun && rods_[i].length_mm == rods_[r].length_mm &&
          rods_[i].left_mm == rods_[r].left_mm)
        return true;
    return false;
  }

  const Needs& needs_;
  std::vector<std::size_t> pins_;
  std::vector<Rod> rods_;
  double kerf_mm_;
  std::vector<std::size_t> from_;  // by pin of pins_: index of rods_
  Cost cost_{0, 0};
  std::optional<Cost> best_;
  std::vector<std::size_t> best_from_;
  std::vector<Rod> rods_at_best_;
};

/// What others have reserved is left to them.
std::vector<Rod> rods_for(const PinStock& stock, const Bin& bin, const std::string& project,
                          std::size_t most_each) {
  std::vector<Rod> rods;
  for (std::size_t i = 0; i < bin.rods.size(); ++i) {
    const RodStock& rod = bin.rods[i];
    if (!serves(rod.stock, stock)) continue;
    const std::size_t copies = std::min(left_for(project, rod.alike, rod.reserved), most_each);
    for (std::size_t copy = 0; copy < copies; ++copy) rods.push_back({i, copy, rod.length_mm, rod.length_mm});
  }
  return rods;
}

}  // namespace

RodPlan plan_rods(const Needs& needs, const Bin& bin, const ShopRules& rules, const std::string& project) {
  RodPlan plan;
  std::vector<bool> done(needs.pins.size());
  for (std::size_t i = 0; i < needs.pins.size(); ++i) {
    if (done[i]) continue;
    std::vector<std::size_t> pins;
    for (std::size_t other = i; other < needs.pins.size(); ++other)
      if (!done[other] && serves(needs.pins[other].stock, needs.pins[i].stock)) {
        pins.push_back(other);
        done[other] = true;
      }
    Sawing sawing(needs, pins, rods_for(needs.pins[i].stock, bin, project, pins.size()), rules.saw_kerf_mm);
    sawing.saw();
    sawing.add_to(plan);
  }
  std::ranges::sort(plan.without);
  return plan;
}

}  // namespace haftwright::cutting
