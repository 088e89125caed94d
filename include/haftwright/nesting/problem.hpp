// What is to be placed where: stocks of any outline, shapes, the turns each may take, and the rules of the
// saw. Knows nothing of what the shapes are for.
//
// Lengths are millimetres and are taken to the nearest micrometre before anything is decided, so that
// every decision can be repeated exactly. A shape is turned first, about its own origin, each corner is then
// taken to the nearest micrometre, and is moved by a whole number of micrometres. A shape that is not convex
// is taken as its convex hull throughout: that is what straight cuts leave of it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <vector>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::nesting {

/// Millimetres; simple, in either direction, straight edges, coordinates within 20 m.
using Polygon = std::vector<Vec2>;

/// Any turn, counter-clockwise, within middle +- play. Play is 0 to 180.
struct Angles {
  double middle_deg = 0;
  double play_deg = 0;
  bool operator==(const Angles&) const = default;
};

inline constexpr std::size_t kNoOther = SIZE_MAX;

struct Stock {
  Polygon outline;
  /// Nothing may touch these once they are grown by Rules::defect_margin_mm (corners mitred, up to twice the
  /// margin).
  std::vector<Polygon> keep_outs;
  double trim_mm = 0;            ///< width of the strip along the rim that is lost, met within 2 micrometres
  std::size_t alike = kNoOther;  ///< stocks of equal value here are interchangeable, kNoOther: with none
  std::vector<std::size_t> excludes;  ///< stocks that may not be used in the same plan as this one; either
                                      ///< may name the other; a stock with fixed parts is used
  bool operator==(const Stock&) const = default;
};

/// A stock that a part may come from, and how it may lie there.
struct Candidate {
  std::size_t stock = 0;
  std::vector<Angles> angles;
  double penalty = 0;          ///< 0 and up; smaller is better
  double penalty_per_deg = 0;  ///< on top for each degree off the middle of the interval; 0 and up
  bool operator==(const Candidate&) const = default;
};

struct Part {
  Polygon shape;
  std::vector<Candidate> candidates;
  bool operator==(const Part&) const = default;
};

/// Parts that together serve a demand.
struct Way {
  std::vector<Part> parts;
  bool on_one_stock = false;
  int rank = 0;  ///< 0 and up; ways of lower rank are preferred to everything but serving one demand more
  bool operator==(const Way&) const = default;
};

/// One way is chosen and all of its parts are placed.
struct Demand {
  std::vector<Way> ways;
  bool operator==(const Demand&) const = default;
};

enum class Preference {
  small_stocks,     ///< least usable area of the stocks that are opened, all together, in mm2
  useful_leftover,  ///< least worth lost: of each opened stock's largest clear rectangle, before less after
  fewest_cuts,
  least_penalty  ///< of the candidates taken and how far off they are turned, all together
};
inline constexpr std::size_t kPreferences = 4;

struct Rules {
  /// Two shapes keep this gap when a saw line along an edge of one of them, with the kerf beside it, parts
  /// them.
  double kerf_mm = 0;
  double defect_margin_mm = 0;
  double useful_length_mm = 0;  ///< along the stock's x: the smallest leftover that counts
  double useful_width_mm = 0;   ///< along its y
  bool straight_cuts =
      true;  ///< only plans that can be sawn with straight cuts, each right through its piece
  /// The most important first; those left out come last, in the order of the enumeration.
  std::vector<Preference> order;
};

/// A part that lies where it lies: an obstacle to the others, and done. It may lie where no plan would put
/// it.
struct Fixed {
  std::size_t demand = 0, way = 0, part = 0, stock = 0;
  Vec2 at_mm{0, 0};  ///< of the shape's origin
  double angle_deg = 0;
};

struct Problem {
  std::vector<Stock> stocks;
  std::vector<Demand> demands;
  Rules rules;
  std::vector<Fixed> fixed;
};

/// Throws std::invalid_argument that names the first field that is wrong ("stocks[2].outline: ...") and what
/// would be right. Every function of this room that takes a Problem calls it.
void check(const Problem& problem);

/// A shape on a stock.
struct Placed {
  std::size_t demand = 0, way = 0, part = 0, stock = 0;
  Vec2 at_mm{0, 0};  ///< of the shape's origin, whole micrometres
  double angle_deg = 0;
  bool operator==(const Placed&) const = default;
};

/// The corners, counter-clockwise, of the convex hull of `shape` as it lies: what all decisions are made on.
Polygon placed_outline(const Polygon& shape, Vec2 at_mm, double angle_deg);

}  // namespace haftwright::nesting
