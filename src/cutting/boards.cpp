#include "boards.hpp"

#include <algorithm>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/offcuts/find.hpp"

namespace haftwright::cutting {
namespace {

/// A rim of straight lines may be an edge of what is sawn.
double chord_trim(const std::vector<Node>& outline) {
  const bool straight = std::ranges::all_of(outline, [](const Node& node) { return node.bulge == 0; });
  return straight ? 0 : kChordMm;
}

std::vector<std::vector<Vec2>> keep_outs_of(const Offcut& offcut) {
  std::vector<std::vector<Vec2>> areas;
  for (const Defect& defect : offcut.defects) areas.push_back(corners(defect.outline));
  return areas;
}

/// The part of `outline` that lies inside a convex one as well; empty where they do not meet in one piece.
std::vector<Vec2> inside_both(const Outline& outline, const Outline& convex) {
  std::vector<Outline> parts{outline};
  const std::vector<Vec2> rim = polyline(convex, kChordMm);
  for (std::size_t i = 0; i < rim.size(); ++i) {
    const Vec2 along = rim[(i + 1) % rim.size()] - rim[i];
    const Vec2 outward{along.y, -along.x};
    parts = clip(parts, {outward, glm::dot(outward, rim[i])});
  }
  return parts.size() == 1 ? polyline(parts.front(), kChordMm) : std::vector<Vec2>{};
}

bool is_convex(const Outline& outline) {
  const std::vector<Vec2> points = polyline(outline, kChordMm);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 a = points[(i + 1) % points.size()] - points[i];
    const Vec2 b = points[(i + 2) % points.size()] - points[(i + 1) % points.size()];
    if (a.x * b.y - a.y * b.x < 0) return false;
  }
  return true;
}

/// What both slices have: nothing where both outlines have bays and differ.
std::vector<Vec2> common_outline(const Offcut& a, const Offcut& b) {
  if (a.outline == b.outline) return corners(a.outline);
  const Outline first(a.outline);
  const Outline second(b.outline);
  if (is_convex(second)) return inside_both(first, second);
  if (is_convex(first)) return inside_both(second, first);
  return {};
}

void exclude_each_other(std::vector<nesting::Stock>& stocks, std::size_t a, std::size_t b) {
  stocks[a].excludes.push_back(b);
  stocks[b].excludes.push_back(a);
}

void add_slices(const Bin& bin, Boards& boards, const ShopRules& rules) {
  const std::size_t singles = boards.boards.size();
  for (std::size_t a = 0; a < singles; ++a)
    for (std::size_t b = 0; b < singles; ++b) {
      const Offcut& upper = bin.offcuts[boards.boards[a].index];
      const Offcut& lower = bin.offcuts[boards.boards[b].index];
      if (upper.matched_set.empty() || upper.matched_set != lower.matched_set ||
          lower.slice != upper.slice + 1)
        continue;
      nesting::Stock both{common_outline(upper, lower), keep_outs_of(upper), rules.offcut_rim_mm + kChordMm};
      if (both.outline.empty()) continue;
      for (std::vector<Vec2>& area : keep_outs_of(lower)) both.keep_outs.push_back(std::move(area));
      const std::size_t pair = boards.stocks.size();
      boards.stocks.push_back(std::move(both));
      boards.boards.push_back({boards.boards[a].index, 0, boards.boards[b].index});
      for (std::size_t other = 0; other < pair; ++other) {
        const Board& board = boards.boards[other];
        const auto takes = [&](std::size_t index) {
          return board.index == index || board.with_slice == index;
        };
        if (takes(boards.boards[a].index) || takes(boards.boards[b].index))
          exclude_each_other(boards.stocks, other, pair);
      }
    }
}

}  // namespace

std::vector<Vec2> corners(const std::vector<Node>& chain) {
  return polyline(Outline(chain), kChordMm);
}

Boards wood_boards(const Bin& bin, const std::vector<std::string>& materials, const std::string& project,
                   std::size_t most_each, const ShopRules& rules) {
  Boards boards;
  for (std::size_t i = 0; i < bin.offcuts.size(); ++i) {
    const Offcut& offcut = bin.offcuts[i];
    if (std::ranges::find(materials, offcut.material) == materials.end()) continue;
    const std::size_t copies = std::min(left_for(project, offcut.alike, offcut.reserved), most_each);
    for (std::size_t copy = 0; copy < copies; ++copy) {
      boards.boards.push_back({i, copy, {}});
      boards.stocks.push_back({corners(offcut.outline),
                               keep_outs_of(offcut),
                               rules.offcut_rim_mm + kChordMm,
                               copies > 1 ? i : nesting::kNoOther,
                               {}});
    }
  }
  add_slices(bin, boards, rules);
  return boards;
}

Boards sheet_boards(const Bin& bin, const std::string& project, std::size_t most_each) {
  Boards boards;
  for (std::size_t i = 0; i < bin.sheets.size(); ++i) {
    const std::size_t copies =
        std::min(left_for(project, bin.sheets[i].alike, bin.sheets[i].reserved), most_each);
    for (std::size_t copy = 0; copy < copies; ++copy) {
      boards.boards.push_back({i, copy, {}});
      boards.stocks.push_back({corners(bin.sheets[i].outline),
                               {},
                               chord_trim(bin.sheets[i].outline),
                               copies > 1 ? i : nesting::kNoOther,
                               {}});
    }
  }
  return boards;
}

}  // namespace haftwright::cutting
