// The choice of patterns: stocks one after another, the best way to every set of demands that can be served
// so far.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "patterns.hpp"

namespace haftwright::nesting::inner {

/// What the choice is made from. Stocks that exclude each other, directly or by others, are one family.
struct Offer {
  std::size_t stock = 0;
  std::size_t pattern = 0;  ///< of the stock's
  std::size_t family = 0;
  std::size_t alike = 0;  ///< equal for patterns with which plans would be plainly the same
  const Pattern* data = nullptr;
};

struct Chosen {
  std::vector<std::size_t> offers;
  Value value;
  bool complete = true;  ///< no choice was left out
};

class Assignment {
 public:
  /// `offers` sorted by family, stock, pattern. Those that can't be in a best choice are left out here: for
  /// each set of kinds as many families are kept as a plan can use, and `spare` more.
  Assignment(const Problem& problem, const Tasks& tasks, std::vector<Offer> offers, std::size_t spare);

  const std::vector<Offer>& offers() const { return offers_; }
  /// The best choice that takes all `taken` (offers, one a stock) and none whose `alike` is forbidden. At
  /// most `most_states` sets are kept at a time. None where `taken` can't be had together.
  std::optional<Chosen> best(const std::vector<std::size_t>& taken, const std::vector<std::size_t>& forbidden,
                             std::size_t most_states, const Watch& watch) const;

 private:
  friend class Course;
  /// What an offer does to a state: to how many demands are served by group, and to parts on their own by
  /// kind.
  struct Effect {
    std::vector<std::pair<std::size_t, std::uint8_t>> adds;  ///< slot, number
    std::vector<std::size_t> groups;
    std::uint64_t serves = 0;  ///< groups, by bit
    std::int64_t rank = 0;
  };
  Effect effect_of(const Offer& offer) const;
  void leave_out_hopeless(std::size_t spare);
  void set_shares();

  const Problem& problem_;
  const Tasks& tasks_;
  std::array<Preference, kPreferences> order_;
  std::vector<Offer> offers_;
  std::vector<Effect> effects_;
  std::vector<std::size_t> slot_of_kind_;  ///< kNoOther: counted by its group
  std::size_t slots_ = 0;
  /// By group: the least rank and amounts that serving one more demand costs, with what else serves shared
  /// out.
  std::vector<std::int64_t> rank_share_;
  std::vector<Amounts> share_;
};

}  // namespace haftwright::nesting::inner
