#include "drawing_box.hpp"

#include <algorithm>

#include "haftwright/drawing/dimension_lines.hpp"
#include "places.hpp"
#include "theme.hpp"
#include "widgets.hpp"

namespace haftwright::app {
namespace {

constexpr float kMargin = 8;  // pixels at scale 1
constexpr float kReach = 6;
constexpr double kLeastScale = 0.05;  // pixels a millimetre

Vec2 size_at(const Drawing& drawing, double pixels_per_mm) {
  const SheetFrame frame{.pixels_per_mm = pixels_per_mm};
  return bounds_of(drawing, frame.mm_per_point()).value_or(Bounds{}).size() * pixels_per_mm;
}

/// The scale at which the drawing takes so many pixels along an axis. What belongs to the sheet keeps its
/// size, so that a few steps are needed.
double scale_for(const Drawing& drawing, int axis, double pixels) {
  const double whole = bounds_of(drawing).value_or(Bounds{}).size()[axis];
  if (!(whole > 0)) return kLeastScale;
  double scale = pixels / whole;
  for (int i = 0; i < 4; ++i) {
    const double beside = size_at(drawing, scale)[axis] - whole * scale;
    scale = std::max(kLeastScale, (pixels - beside) / whole);
  }
  return scale;
}

/// A place that lies on an item: of a dimension on its line, of all else in the middle.
Vec2 place_on(const Item& item, double mm_per_point) {
  if (const auto* dimension = std::get_if<Dimension>(&item.shape)) {
    const DimensionLines lines = dimension_lines(*dimension, mm_per_point);
    if (lines.ring) return lines.ring->centre;
    if (!lines.arrows.empty()) return (lines.arrows.front()[0] + lines.arrows.back()[0]) * 0.5;
  }
  const Bounds box = bounds_of(Drawing{{item}}, mm_per_point).value_or(Bounds{});
  return (box.low + box.high) * 0.5;
}

/// For tests of the real window.
void note_tags(const ShownDrawing& sheet, const char* id, const SheetFrame& frame) {
  if (!places::wanted()) return;
  for (const Item& item : sheet.drawing().items)
    if (item.tag)
      places::point(id, std::to_string(*item.tag), frame.to_screen(place_on(item, frame.mm_per_point())));
}

}  // namespace

DrawingHover drawing_box(ShownDrawing& sheet, const char* id, const char* tip, float most_height,
                         const DrawingBesides& besides) {
  const Drawing& drawing = besides.fit ? *besides.fit : sheet.drawing();
  const float margin = scaled(kMargin);
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float width = std::max(ImGui::GetContentRegionAvail().x, 4 * margin);
  double scale = scale_for(drawing, 0, width - 2 * margin);
  if (most_height > 0) scale = std::min(scale, scale_for(drawing, 1, most_height - 2 * margin));
  SheetFrame frame{.pixels_per_mm = scale};
  const Bounds bounds = bounds_of(drawing, frame.mm_per_point()).value_or(Bounds{});
  const float height = static_cast<float>(bounds.size().y * scale) + 2 * margin;
  frame.origin = {low.x + width / 2, low.y + height / 2};
  frame.centre = (bounds.low + bounds.high) * 0.5;
  if (besides.grips)
    ImGui::InvisibleButton(id, {width, height});
  else
    ImGui::Dummy({width, height});
  const ImVec2 high{low.x + width, low.y + height};
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled(low, high, palette().paper, scaled(4));
  draw.PushClipRect(low, high, true);
  sheet.paint(draw, frame, besides.ground);
  if (besides.over) besides.over->paint(draw, frame);
  draw.PopClipRect();
  places::item("drawing", id);
  note_tags(sheet, id, frame);
  DrawingHover hover{.over = ImGui::IsItemHovered()};
  if (hover.over) hover.tag = sheet.tag_at(frame, ImGui::GetIO().MousePos, scaled(kReach));
  if (!hover.tag) tooltip(tip);
  if (ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) &&
      ImGui::IsMouseHoveringRect(low, high))
    hover.pointer = frame.to_drawing(ImGui::GetIO().MousePos);
  const bool pressed = hover.over && ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  hover.clicked = hover.tag && pressed;
  if (pressed) hover.pressed = frame.to_drawing(ImGui::GetIO().MousePos);
  return hover;
}

}  // namespace haftwright::app
