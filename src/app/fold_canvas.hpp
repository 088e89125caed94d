// The sheet of the fold view as a surface to draw on: millimetres of the drawing to pixels, and the few
// shapes that a drawing is made of.
#pragma once

#include <string>
#include <vector>

#include "fold_view.hpp"
#include "theme.hpp"

namespace haftwright::app {

inline ImU32 with_alpha(ImU32 colour, unsigned alpha) {
  return (colour & ~IM_COL32_A_MASK) | (static_cast<ImU32>(alpha) << IM_COL32_A_SHIFT);
}

/// What every painter gets: `at` maps the drawing to the screen, `state.drawing.map` the handle to the
/// drawing.
struct FoldCanvas {
  const Ui& ui;
  const FoldViewState& state;
  ImDrawList& draw;

  ImVec2 at(Vec2 drawing) const { return state.frame.to_screen(drawing); }
  ImVec2 at(const FoldPlace& place) const { return at(state.drawing.map.to_drawing(place)); }
  float pixels(double mm) const { return static_cast<float>(mm * state.frame.pixels_per_mm); }

  void path(const std::vector<Vec2>& points, bool closed, ImU32 colour, float width) const;
  /// Short strokes, for what lies hidden.
  void dashed(const std::vector<Vec2>& points, bool closed, ImU32 colour, float width) const;
  void dashed_circle(ImVec2 centre, float radius, ImU32 colour, float width) const;
  void filled(const FoldArea& area, const std::vector<std::array<std::uint32_t, 3>>& triangles,
              ImU32 colour) const;
  /// A stretch with an arrow at either end; arrows outside where it is short.
  void dimension(ImVec2 a, ImVec2 b, ImU32 colour, float width) const;
  /// Text on a ground of its own, its left edge and middle at `at`.
  void tag(ImVec2 at, const std::string& text, ImU32 ink, ImU32 border = 0) const;
};

ImVec2 tag_size(const std::string& text);

// What is painted, from below to above.
void paint_drawing(const FoldCanvas& to);
/// Everything that answers tell of the handle and that has a place on it: rings, dimensions, marks. More of
/// the kind belongs here: it has the map from the handle to the drawing and from there to the screen.
void paint_overlays(const FoldCanvas& to);
/// What 95 of 100 handles would look like at the joints, when that is switched on.
void paint_spread(const FoldCanvas& to);
void paint_grips(const FoldCanvas& to, const std::vector<Grip>& all);
/// Guides that a drag has settled at, neighbours' distances and the numbers beside the pointer.
void paint_live(const FoldCanvas& to);

}  // namespace haftwright::app
