#include "drawing_painter.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dashes.hpp"
#include "drawing_looks.hpp"
#include "haftwright/drawing/dimension_lines.hpp"
#include "haftwright/drawing/hit.hpp"
#include "haftwright/preview/ear_clipping.hpp"
#include "widgets.hpp"

namespace haftwright::app {
namespace {

constexpr float kPointPixels = 4.0F / 3;  // at scale 1: 96 pixels an inch
constexpr double kDeviation = 0.2;        // pixels that a chord may leave its arc
constexpr double kCoarser = 16;           // triangles finer than needed by more than this are made anew
constexpr float kTagPad = 4;
constexpr unsigned kGroundVeil = 0x58;  // how much of the paper lies over a photo

/// Paints one item after the other.
class ItemPainter {
 public:
  ItemPainter(ImDrawList& draw, const SheetFrame& frame) : draw_(draw), frame_(frame) {}

  void paint(const Stroke& stroke, const RoleLook& look) const {
    line(on_screen(flattened(stroke, kDeviation / frame_.pixels_per_mm)), stroke.closed, look);
  }

  void paint(const Circle& circle, const RoleLook& look) const {
    const ImVec2 centre = at(circle.centre);
    const auto radius = static_cast<float>(circle.radius.in_mm(frame_.mm_per_point()) * frame_.pixels_per_mm);
    if (look.fill) draw_.AddCircleFilled(centre, radius, look.fill.packed());
    if (!look.stroke) return;
    if (!look.dashed) return draw_.AddCircle(centre, radius, look.stroke.packed(), 0, scaled(look.width));
    const int count = std::clamp(static_cast<int>(radius), 16, 96);
    std::vector<ImVec2> points;
    for (int i = 0; i < count; ++i) {
      const float angle = 2 * std::numbers::pi_v<float> * static_cast<float>(i) / static_cast<float>(count);
      points.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
    }
    line(points, true, look);
  }

  /// Densest along the middle, thinning out toward both sides.
  void paint(const Band& band, const RoleLook& look) const {
    if (!look.fill) return;
    std::array<ImVec2, 6> corners;
    for (std::size_t i = 0; i < 3; ++i) {
      corners[i] = at(band.from[i]);
      corners[i + 3] = at(band.to[i]);
    }
    const ImU32 colour = look.fill.packed();
    const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
    draw_.PrimReserve(12, 6);
    const unsigned first = draw_._VtxCurrentIdx;
    for (std::size_t i = 0; i < 6; ++i)
      draw_.PrimWriteVtx(corners[i], white, with_alpha(colour, i % 3 == 1 ? 0xB0 : 0x38));
    for (const unsigned index : {0U, 1U, 4U, 0U, 4U, 3U, 1U, 2U, 5U, 1U, 5U, 4U})
      draw_.PrimWriteIdx(static_cast<ImDrawIdx>(first + index));
    for (const std::size_t side : {0U, 2U})
      draw_.AddLine(corners[side], corners[side + 3], with_alpha(colour, 0xE0), scaled(1));
  }

  void paint(const Text& text, const RoleLook& look) const {
    words(text, look.stroke ? look.stroke.packed() : palette().ink, true);
  }

  void paint(const Dimension& dimension, const RoleLook& look) const {
    const DimensionLines lines = dimension_lines(dimension, frame_.mm_per_point());
    const ImU32 colour = look.stroke.packed();
    for (const auto& [a, b] : lines.lines) draw_.AddLine(at(a), at(b), colour, scaled(look.width));
    for (const auto& [tip, left, right] : lines.arrows)
      draw_.AddTriangleFilled(at(tip), at(left), at(right), colour);
    if (lines.ring) paint(*lines.ring, look);
    if (lines.text) words(*lines.text, palette().ink, false);
  }

  /// Triangles side by side, without the seams that smoothed edges would show between them.
  void area(const std::vector<Vec2>& corners, const std::vector<std::array<std::uint32_t, 3>>& triangles,
            ImU32 colour) const {
    if (triangles.empty()) return;
    draw_.PrimReserve(static_cast<int>(3 * triangles.size()), static_cast<int>(corners.size()));
    const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
    const unsigned first = draw_._VtxCurrentIdx;
    for (const Vec2 p : corners) draw_.PrimWriteVtx(at(p), white, colour);
    for (const auto& triangle : triangles)
      for (const std::uint32_t index : triangle) draw_.PrimWriteIdx(static_cast<ImDrawIdx>(first + index));
  }

  /// The same, each showing its part of a picture.
  void area(const std::vector<Vec2>& corners, const std::vector<std::array<std::uint32_t, 3>>& triangles,
            const Ground& ground) const {
    if (triangles.empty()) return;
    draw_.PushTextureID(ground.texture);
    draw_.PrimReserve(static_cast<int>(3 * triangles.size()), static_cast<int>(corners.size()));
    const Vec2 size = ground.box_mm.size();
    const unsigned first = draw_._VtxCurrentIdx;
    for (const Vec2 p : corners)
      draw_.PrimWriteVtx(at(p),
                         {static_cast<float>((p.x - ground.box_mm.low.x) / size.x),
                          static_cast<float>((ground.box_mm.high.y - p.y) / size.y)},
                         IM_COL32_WHITE);
    for (const auto& triangle : triangles)
      for (const std::uint32_t index : triangle) draw_.PrimWriteIdx(static_cast<ImDrawIdx>(first + index));
    draw_.PopTextureID();
    area(corners, triangles, with_alpha(palette().paper, kGroundVeil));
  }

 private:
  ImVec2 at(Vec2 p) const { return frame_.to_screen(p); }

  std::vector<ImVec2> on_screen(const std::vector<Vec2>& points) const {
    std::vector<ImVec2> shown;
    shown.reserve(points.size() + 1);
    for (const Vec2 p : points) shown.push_back(at(p));
    return shown;
  }

  void line(std::vector<ImVec2> points, bool closed, const RoleLook& look) const {
    if (!look.stroke || points.size() < 2) return;
    if (look.dashed && closed) points.push_back(points.front());
    const auto pass = [&](ImU32 colour, float width) {
      if (look.dashed) return dash(draw_, points, colour, width);
      draw_.AddPolyline(points.data(), static_cast<int>(points.size()), colour,
                        closed ? ImDrawFlags_Closed : ImDrawFlags_None, width);
    };
    if (look.halo > 0) pass(with_alpha(palette().paper, look.dashed ? 0xB0 : 0xA0), scaled(look.halo));
    pass(look.stroke.packed(), scaled(look.width));
  }

  /// On a ground, so that it can be read over wood. One that keeps in sight stays beside the drawing, or over
  /// it where there is no room beside it.
  void words(const Text& text, ImU32 ink, bool keep_in_sight) const {
    const auto height = static_cast<float>(text.height.in_mm(frame_.mm_per_point()) * frame_.pixels_per_mm);
    const ImVec2 size = ImGui::GetFont()->CalcTextSizeA(height, HUGE_VALF, 0, text.words.data(),
                                                        text.words.data() + text.words.size());
    const ImVec2 anchor = at(text.at);
    const float points = point_pixels();
    ImVec2 low{anchor.x + points * static_cast<float>(text.shift_points.x) -
                   size.x * static_cast<float>(text.along) / 2,
               anchor.y - points * static_cast<float>(text.shift_points.y) -
                   size.y * (1 - static_cast<float>(text.across) / 2)};
    const ImVec2 pad{scaled(kTagPad), scaled(kTagPad) / 2};
    if (keep_in_sight) {
      const float least = draw_.GetClipRectMin().x + pad.x;
      low.x = std::clamp(low.x, least, std::max(least, draw_.GetClipRectMax().x - size.x - 2 * pad.x));
    }
    const int from = draw_.VtxBuffer.Size;
    draw_.AddRectFilled({low.x - pad.x, low.y - pad.y}, {low.x + size.x + pad.x, low.y + size.y + pad.y},
                        with_alpha(palette().paper, 0xE8), scaled(3));
    draw_.AddText(ImGui::GetFont(), height, low, ink, text.words.c_str());
    if (text.turn_rad == 0) return;
    const ImVec2 pivot{anchor.x + points * static_cast<float>(text.shift_points.x),
                       anchor.y - points * static_cast<float>(text.shift_points.y)};
    const auto c = static_cast<float>(std::cos(text.turn_rad));
    const auto s = static_cast<float>(std::sin(text.turn_rad));
    for (int i = from; i < draw_.VtxBuffer.Size; ++i) {
      ImVec2& p = draw_.VtxBuffer[i].pos;
      const ImVec2 off{p.x - pivot.x, p.y - pivot.y};
      p = {pivot.x + c * off.x + s * off.y, pivot.y - s * off.x + c * off.y};  // y runs down
    }
  }

  ImDrawList& draw_;
  const SheetFrame& frame_;
};

ImU32 natural_colour(const std::array<float, 3>& colour) {
  return ImGui::ColorConvertFloat4ToU32({colour[0], colour[1], colour[2], 1});
}

}  // namespace

float point_pixels() {
  return scaled(kPointPixels);
}

double SheetFrame::mm_per_point() const {
  return point_pixels() / pixels_per_mm;
}

void ShownDrawing::triangulate(double tolerance_mm) {
  areas_.clear();
  tolerance_mm_ = tolerance_mm;
  for (const Item& item : drawing_.items) {
    const auto* area = std::get_if<Fill>(&item.shape);
    if (!area) continue;
    std::vector<std::vector<Vec2>> loops;
    Triangles made;
    for (const std::vector<Node>& loop : area->loops) {
      loops.push_back(flattened(Stroke{loop, true}, tolerance_mm));
      made.corners.insert(made.corners.end(), loops.back().begin(), loops.back().end());
    }
    if (!loops.empty()) made.corner_of = fill(loops.front(), {loops.begin() + 1, loops.end()});
    areas_.push_back(std::move(made));
  }
}

void ShownDrawing::paint(ImDrawList& draw, const SheetFrame& frame, const Ground& ground) {
  const double tolerance = kDeviation / frame.pixels_per_mm;
  if (tolerance < tolerance_mm_ || tolerance > kCoarser * tolerance_mm_) triangulate(tolerance / 2);
  const ItemPainter painter(draw, frame);
  auto area = areas_.begin();
  for (const Item& item : drawing_.items) {
    const RoleLook& look = look_of(item.role);
    if (const auto* fill = std::get_if<Fill>(&item.shape)) {
      if (fill->natural && ground.texture)
        painter.area(area->corners, area->corner_of, ground);
      else if (fill->natural || look.fill)
        painter.area(area->corners, area->corner_of,
                     fill->natural ? natural_colour(*fill->natural) : look.fill.packed());
      ++area;
      for (const std::vector<Node>& loop : fill->loops)
        if (look.stroke) painter.paint(Stroke{loop, true}, look);
      continue;
    }
    std::visit(
        [&](const auto& shape) {
          if constexpr (!std::is_same_v<std::decay_t<decltype(shape)>, Fill>) painter.paint(shape, look);
        },
        item.shape);
  }
}

std::optional<std::size_t> ShownDrawing::tag_at(const SheetFrame& frame, ImVec2 place, float reach) const {
  const auto item =
      item_at(drawing_, frame.to_drawing(place), reach / frame.pixels_per_mm, frame.mm_per_point());
  return item ? drawing_.items[*item].tag : std::nullopt;
}

ImVec2 tag_size(const std::string& text) {
  const ImVec2 size = ImGui::CalcTextSize(text.c_str());
  return {size.x + 2 * scaled(kTagPad), size.y + scaled(kTagPad)};
}

void tag(ImDrawList& draw, ImVec2 where, const std::string& text, ImU32 ink, ImU32 border) {
  const ImVec2 size = tag_size(text);
  const ImVec2 from{where.x, where.y - size.y / 2};
  const ImVec2 until{from.x + size.x, from.y + size.y};
  draw.AddRectFilled(from, until, with_alpha(palette().paper, 0xE8), scaled(3));
  if (border) draw.AddRect(from, until, border, scaled(3), 0, scaled(1));
  draw.AddText({from.x + scaled(kTagPad), from.y + scaled(kTagPad) / 2}, ink, text.c_str());
}

}  // namespace haftwright::app
