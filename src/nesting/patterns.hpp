// Patterns: which kinds fit together on one stock, where they lie, and what that costs.
#pragma once

#include <array>
#include <optional>
#include <set>
#include <vector>

#include "clear_space.hpp"
#include "tasks.hpp"
#include "watch.hpp"

namespace haftwright::nesting::inner {

using Amounts = std::array<std::int64_t, kPreferences>;

/// A kind at one turn that has a place on the empty stock.
struct Option {
  std::size_t kind = 0;
  double angle_deg = 0;
  std::int64_t penalty = 0;  ///< thousandths
  double area_mm2 = 0;
  Turned shape;
};

struct ReadyStock {
  Room room;
  Path outline;             ///< with the trim: what is sawn
  std::vector<Path> fixed;  ///< outlines of what lies there
  ClearSpace space;
  std::int64_t worth = 0;  ///< of what there is before
  std::int64_t cuts = 0;   ///< that free what lies there
  std::vector<Option> options;
  std::vector<char> fits;  ///< by kind: it has a place, by itself
};
ReadyStock make_ready(const Problem& problem, const Tasks& tasks, std::size_t stock);

struct Item {
  std::size_t option = 0;
  Point at;
  bool operator==(const Item&) const = default;
  bool operator<(const Item& other) const {
    return option != other.option ? option < other.option : before(at, other.at);
  }
};

struct PlacedKind {
  std::size_t kind = 0;
  Point at;
  double angle_deg = 0;
};

/// The best arrangement found of one set of kinds on one stock.
struct Pattern {
  std::vector<std::uint8_t> counts;  ///< by kind
  std::vector<PlacedKind> items;
  std::optional<Box> clear;  ///< the rectangle whose worth counts
  Amounts by{};
};

struct Effort {
  std::size_t looks_for_all = 0;  ///< how often free space may be computed for a complete search of one stock
  std::size_t looks = 0;          ///< and where that is not enough, for a search of the most promising
};
struct Patterns {
  std::vector<Pattern> all;
  bool complete = true;  ///< every arrangement of the family was seen
};
Patterns patterns_on(const ReadyStock& stock, const Problem& problem, const Tasks& tasks,
                     const Effort& effort, const Watch& watch);

/// The clear rectangle worth most that, with straight cuts, can be parted from the outlines.
std::optional<Clear> best_clear(const ReadyStock& stock, const std::vector<Path>& outlines,
                                const Rules& rules);

}  // namespace haftwright::nesting::inner
