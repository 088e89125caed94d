// Paints drawings in the window and finds what of them is under the mouse. The only place that makes pixels
// of a drawing; what a role looks like is in drawing_looks.
#pragma once

#include <imgui.h>

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/drawing/drawing.hpp"
#include "photo_textures.hpp"

namespace haftwright::app {

/// From the drawing's millimetres to the screen and back.
struct SheetFrame {
  ImVec2 origin{0, 0};  ///< screen place of the drawing's `centre`
  Vec2 centre{0, 0};
  double pixels_per_mm = 5;

  ImVec2 to_screen(Vec2 p) const {
    return {origin.x + static_cast<float>((p.x - centre.x) * pixels_per_mm),
            origin.y - static_cast<float>((p.y - centre.y) * pixels_per_mm)};
  }
  Vec2 to_drawing(ImVec2 p) const {
    return {centre.x + (p.x - origin.x) / pixels_per_mm, centre.y - (p.y - origin.y) / pixels_per_mm};
  }
  /// How much of the drawing a point of the sheet covers.
  double mm_per_point() const;
};
/// Pixels that a point of the sheet takes.
float point_pixels();

/// A drawing to be painted frame after frame: the triangles of its areas are kept.
class ShownDrawing {
 public:
  ShownDrawing() = default;
  explicit ShownDrawing(Drawing drawing) : drawing_(std::move(drawing)) {}

  const Drawing& drawing() const { return drawing_; }
  /// With a `ground` areas that have a colour of their own show it instead, fainter, so that lines on it read
  /// well.
  void paint(ImDrawList& draw, const SheetFrame& frame, const Ground& ground = {});
  /// The tag of what lies under a place of the screen, no farther than so many pixels (see item_at).
  std::optional<std::size_t> tag_at(const SheetFrame& frame, ImVec2 place, float reach) const;

 private:
  struct Triangles {
    std::vector<Vec2> corners;
    std::vector<std::array<std::uint32_t, 3>> corner_of;
  };

  void triangulate(double tolerance_mm);

  Drawing drawing_;
  std::vector<Triangles> areas_;  ///< of each Fill, in order
  double tolerance_mm_ = 0;       ///< that they were made with; 0: not yet
};

/// Text on a ground of its own, its left edge and middle at `at`.
void tag(ImDrawList& draw, ImVec2 at, const std::string& text, ImU32 ink, ImU32 border = 0);
ImVec2 tag_size(const std::string& text);

}  // namespace haftwright::app
