// Plans: which part goes on which stock, where, how it is sawn out, and what is left.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <stop_token>
#include <vector>

#include "haftwright/nesting/problem.hpp"

namespace haftwright::nesting {

/// How good a plan is; less is better, compared in the order of Rules::order after the first two.
struct Value {
  std::int64_t unplaced = 0;  ///< demands that no way serves
  std::int64_t rank = 0;      ///< of the ways chosen, summed
  /// By Preference: mm2, worth (see worth_of), number, thousandths of penalty.
  std::array<std::int64_t, kPreferences> by{};
  bool operator==(const Value&) const = default;
};

/// What is first found different between two values.
enum class Decision { none, unplaced, rank, preference };
struct Difference {
  Decision what = Decision::none;
  Preference preference = Preference::small_stocks;  ///< where `what` is preference
  bool first_is_better = false;
};
Difference compare(const Value& first, const Value& second, const Rules& rules);

/// What a clear rectangle is worth: (length x width in mm2) to the power of 1.1, so that one big one is worth
/// more than two halves; 0 where it does not hold Rules' useful length along x and width along y.
std::int64_t worth_of(double length_mm, double width_mm, const Rules& rules);

/// A straight edge that a fence can be set from: of the piece's outline or sawn before, parallel to the cut.
struct Fence {
  Vec2 from_mm{0, 0}, to_mm{0, 0};
  double distance_mm = 0;  ///< from that edge to the side of the kerf that the edge's own wood keeps
};

/// A saw cut, right through the piece it cuts.
struct Cut {
  Vec2 from_mm{0, 0}, to_mm{0, 0};  ///< middle of the kerf
  std::size_t piece = 0;            ///< what it cuts; piece 0 is the whole stock
  std::vector<std::size_t> made;    ///< new pieces, numbered in the order in which they are made
  std::size_t along = 0;  ///< the shape, an index of StockCuts::shapes, along an edge of which it is sawn
  Vec2 edge_from_mm{0, 0}, edge_to_mm{0, 0};  ///< that edge: kerf_mm/2 from the cut
  double angle_deg = 0;                       ///< of the cut, from the stock's x axis, 0 to 180
  std::optional<Fence> fence;                 ///< none: no straight edge of the piece is parallel to the cut
};

/// The cuts that free all shapes of one stock, in order. An edge that lies on the rim needs none.
struct StockCuts {
  std::size_t stock = 0;
  std::vector<Placed> shapes;      ///< fixed ones too
  std::vector<Cut> cuts;           ///< empty without Rules::straight_cuts
  std::vector<std::size_t> freed;  ///< for each of `shapes` the piece that it is in the end
  std::vector<Polygon> pieces;     ///< outlines of all pieces ever made, by number
  bool complete = true;            ///< false: shapes fixed by hand can't be parted by straight cuts
};

/// A piece that is left of a stock.
struct Leftover {
  std::size_t stock = 0;
  Polygon outline;
  std::int64_t worth = 0;  ///< of its clear rectangle
  Vec2 clear_from_mm{
      0, 0};  ///< lower left corner of its largest clear rectangle along the stock's x and y that was
              ///< found: none greater on a mesh of lines through all corners, finer on slanted rims
  Vec2 clear_size_mm{0, 0};
};

struct Plan {
  std::vector<Placed> placed;  ///< without the fixed ones; by demand, way, part
  std::vector<std::size_t> unplaced_demands;
  std::vector<StockCuts> cuts;  ///< one for each stock that is used, by stock
  std::vector<Leftover> leftovers;
  Value value;
  /// No plan of the family (see plan()) is better. Only ever true of the first plan.
  bool proven_best = false;
  Value bound;              ///< no plan is better than this; `value` itself where proven
  Difference against_next;  ///< why this plan stands before the next; none for the last
};

struct Plans {
  std::vector<Plan> plans;  ///< the best first; at least one, if only an empty one, unless stopped
  std::vector<std::size_t>
      never_fits;            ///< demands none of whose ways has a place for each of its parts on any stock
                             ///< by itself, at any turn: proven, but for less than kCloseMm
  bool stopped = false;      ///< by the stop token
  bool out_of_time = false;  ///< the time limit cut the search short; what was found stands
};

struct Running {
  std::stop_token stop = {};
  std::function<void(double share)> progress = {};  ///< on the thread that called, share from 0 to 1
  double time_limit_s = 60;  ///< where it cuts the search short, the same problem may give another plan
  /// How many arrangements are looked at, 1 for the usual number: less for a quick answer, more where it
  /// matters.
  double effort = 1;
  unsigned threads = 2;  ///< the plans are the same for any number
};

/// The best plans, `most_plans` or fewer; each differs from those before it in which parts come from which
/// stocks (alike stocks and alike demands taken for each other).
///
/// The family searched: on each stock, shapes are set one after another, in any order; each at the middle of
/// an interval of its angles, at the interval's ends, at up to four turns within it that lay one of its edges
/// along the rim, or, where none of these has a place on the empty stock, at a turn found by halving the
/// interval; and each at a corner of the space that is free where it can move neither along x nor along y
/// towards one of the stock's four corners, the same for all shapes of that stock. Straight cuts are looked
/// for among the lines along the shapes' edges. For rectangles at one angle on a rectangle the family holds a
/// best plan (normal patterns: Herz 1972, Christofides and Whitlock 1977). Where there are too many
/// arrangements the most promising are kept and proven_best is false.
Plans plan(const Problem& problem, std::size_t most_plans, const Running& running = {});

}  // namespace haftwright::nesting
