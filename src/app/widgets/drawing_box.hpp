// A drawing in a box of its own, fitted to a pane.
#pragma once

#include "drawing_painter.hpp"

namespace haftwright::app {

struct DrawingHover {
  bool over = false;               ///< the mouse is over the box
  std::optional<std::size_t> tag;  ///< of what is under it
  bool clicked = false;            ///< on a tag
  std::optional<Vec2> pressed;     ///< where it was clicked, tag or not, in the drawing
  std::optional<Vec2> pointer;     ///< where the mouse is, even while another box's drag goes on
};

/// What is shown with a drawing in its box.
struct DrawingBesides {
  const Drawing* fit = nullptr;  ///< what the box is made for, where that is another drawing
  ShownDrawing* over = nullptr;  ///< on top
  Ground ground = {};            ///< under it
  bool grips = false;            ///< the mouse drags what is in the box, not the pane about it
};

/// As wide as the pane and as high as the drawing then is, at most `most_height` pixels (0: no limit). `tip`
/// is told where nothing with a tag lies under the mouse. `id` is what tests call the box; each tag's place
/// is noted for them as "id tag".
DrawingHover drawing_box(ShownDrawing& sheet, const char* id, const char* tip, float most_height = 0,
                         const DrawingBesides& besides = {});

}  // namespace haftwright::app
