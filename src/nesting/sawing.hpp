// Straight cuts: whether they can part what lies on a stock, and which, in which order.
#pragma once

#include <optional>
#include <vector>

#include "clear_space.hpp"
#include "haftwright/nesting/plan.hpp"

namespace haftwright::nesting::inner {

/// Cuts along edges of these convex outlines, each right through its piece with the kerf beside the edge, can
/// part them all. What is parted stays partable when something is left out, so that any cut that parts some
/// may be taken.
bool partable(const std::vector<Path>& outlines, Int kerf);

struct SawnPiece {
  Path outline;
  std::vector<std::size_t> shapes;
  bool sawn = false;  ///< into others
};
struct SawCut {
  Point edge_a, edge_b;          ///< counter-clockwise on the shape: the kerf lies to the right
  std::size_t along = kNoOther;  ///< kNoOther: along the clear rectangle
  std::size_t piece = 0;
  std::vector<std::size_t> made;
};
struct Sawing {
  std::vector<SawnPiece> pieces;
  std::vector<SawCut> cuts;
  bool complete = true;
};
/// Frees all outlines; `clear` stays in one piece where that can be. First come cuts that part shapes, those
/// that free most edges first; then the edges of each shape that are not on the rim.
Sawing saw(const Path& stock, const std::vector<Path>& outlines, const std::optional<Box>& clear, Int kerf);

/// With fences, in millimetres.
StockCuts in_mm(const Sawing& sawing, Int kerf);

}  // namespace haftwright::nesting::inner
