// Where each caliper reading is taken: both sides in plan.
#include "drawing_box.hpp"
#include "haftwright/preview/reading_sketch.hpp"
#include "panel_line_up.hpp"

namespace haftwright::app {

std::optional<std::size_t> dry_fit_drawing(const Design& design, const Handle& handle,
                                           const CaliperReading& marked) {
  std::optional<std::size_t> clicked;
  for (const Which side : {Which::left, Which::right}) {
    ShownDrawing sheet(draw_reading_sketch(design, handle, side, marked));
    const DrawingHover hover = drawing_box(
        sheet, side == Which::left ? "reading on the left" : "reading on the right",
        "Dots: from where to where the reading is taken; a step, from the line of one side to that of the "
        "other. The bold one is the one below. Click another to see it.");
    if (hover.tag) ImGui::SetTooltip("Reading %d. Click to see it below.", static_cast<int>(*hover.tag) + 1);
    if (hover.clicked) clicked = hover.tag;
  }
  return clicked;
}

}  // namespace haftwright::app
