// The sheet of the fold view, to paint on: grid and ruler, and everything that lies over the drawing.
#pragma once

#include <utility>
#include <vector>

#include "fold_view.hpp"
#include "theme.hpp"

namespace haftwright::app {

/// What every painter gets: `at` maps the drawing to the screen, `state.map` the handle to the drawing.
struct FoldCanvas {
  const Ui& ui;
  const FoldViewState& state;
  ImDrawList& draw;

  ImVec2 at(Vec2 drawing) const { return state.frame.to_screen(drawing); }
  ImVec2 at(const FoldPlace& place) const { return at(state.map.to_drawing(place)); }
  float pixels(double mm) const { return static_cast<float>(mm * state.frame.pixels_per_mm); }
  void paint(Drawing drawing) const { ShownDrawing(std::move(drawing)).paint(draw, state.frame); }
  void paint(Role role, Shape shape) const { paint(Drawing{{{std::move(shape), role, {}}}}); }
};

// What is painted, from below to above.
void paint_grid(const FoldCanvas& to);
/// Along the lower edge of the sheet.
void paint_ruler(const FoldCanvas& to);
/// What 95 of 100 handles would look like at the joints, when that is switched on.
void paint_spread(const FoldCanvas& to);
/// The marks of the findings.
void paint_marks(const FoldCanvas& to);
void paint_grips(const FoldCanvas& to, const std::vector<Grip>& all);
/// Guides that a drag has settled at, neighbours' distances and the numbers beside the pointer.
void paint_live(const FoldCanvas& to);

}  // namespace haftwright::app
