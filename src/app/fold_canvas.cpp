#include "fold_canvas.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace haftwright::app {
namespace {

constexpr float kArrow = 7;  // pixels at scale 1
constexpr float kTagPad = 4;

ImVec2 between(ImVec2 a, ImVec2 b, float share) {
  return {a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

/// Screen points of a drawn line, the first repeated at the end of a closed one.
std::vector<ImVec2> on_screen(const FoldCanvas& to, const std::vector<Vec2>& points, bool closed) {
  std::vector<ImVec2> shown;
  for (Vec2 p : points) shown.push_back(to.at(p));
  if (closed && !shown.empty()) shown.push_back(shown.front());
  return shown;
}

/// Outside of what is clipped away nothing needs dashes, and zoomed far in a line has very many of them.
bool in_sight(const ImDrawList& draw, ImVec2 a, ImVec2 b) {
  const ImVec2 low = draw.GetClipRectMin();
  const ImVec2 high = draw.GetClipRectMax();
  return std::max(a.x, b.x) >= low.x && std::min(a.x, b.x) <= high.x && std::max(a.y, b.y) >= low.y &&
         std::min(a.y, b.y) <= high.y;
}

/// The part of a stroke a-b, as shares of it, that can be seen along its longer direction.
std::pair<float, float> seen_part(const ImDrawList& draw, ImVec2 a, ImVec2 b) {
  const bool flat = std::abs(b.x - a.x) >= std::abs(b.y - a.y);
  const float from = flat ? a.x : a.y;
  const float run = flat ? b.x - a.x : b.y - a.y;
  if (run == 0) return {0, 1};
  const ImVec2 low = draw.GetClipRectMin();
  const ImVec2 high = draw.GetClipRectMax();
  const float first = ((flat ? low.x : low.y) - from) / run;
  const float last = ((flat ? high.x : high.y) - from) / run;
  return {std::clamp(std::min(first, last), 0.0F, 1.0F), std::clamp(std::max(first, last), 0.0F, 1.0F)};
}

void dash(ImDrawList& draw, const std::vector<ImVec2>& points, ImU32 colour, float width) {
  const float length = scaled(5);
  float along = 0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const ImVec2 a = points[i];
    const ImVec2 b = points[i + 1];
    const float whole = std::hypot(b.x - a.x, b.y - a.y);
    if (whole > 0 && in_sight(draw, a, b)) {
      const auto [first, last] = seen_part(draw, a, b);
      for (float t = first * whole; t < last * whole;) {
        const float phase = std::fmod(along + t, 2 * length);
        const float run = std::min(last * whole - t, phase < length ? length - phase : 2 * length - phase);
        if (phase < length)
          draw.AddLine(between(a, b, t / whole), between(a, b, (t + run) / whole), colour, width);
        t += std::max(run, 0.1F);
      }
    }
    along += whole;
  }
}

}  // namespace

void FoldCanvas::path(const std::vector<Vec2>& points, bool closed, ImU32 colour, float width) const {
  for (Vec2 p : points) draw.PathLineTo(at(p));
  draw.PathStroke(colour, closed ? ImDrawFlags_Closed : ImDrawFlags_None, width);
}

void FoldCanvas::dashed(const std::vector<Vec2>& points, bool closed, ImU32 colour, float width) const {
  dash(draw, on_screen(*this, points, closed), colour, width);
}

void FoldCanvas::dashed_circle(ImVec2 centre, float radius, ImU32 colour, float width) const {
  const int count = std::clamp(static_cast<int>(radius), 16, 96);
  std::vector<ImVec2> points;
  for (int i = 0; i <= count; ++i) {
    const float angle = 2 * std::numbers::pi_v<float> * static_cast<float>(i) / static_cast<float>(count);
    points.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
  }
  dash(draw, points, colour, width);
}

void FoldCanvas::filled(const FoldArea& area, const std::vector<std::array<std::uint32_t, 3>>& triangles,
                        ImU32 colour) const {
  if (triangles.empty()) return;
  std::vector<Vec2> corners = area.loop;
  for (const std::vector<Vec2>& hole : area.holes) corners.insert(corners.end(), hole.begin(), hole.end());
  draw.PrimReserve(static_cast<int>(3 * triangles.size()), static_cast<int>(corners.size()));
  const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
  const unsigned first = draw._VtxCurrentIdx;
  for (Vec2 p : corners) draw.PrimWriteVtx(at(p), white, colour);
  for (const auto& triangle : triangles)
    for (std::uint32_t index : triangle) draw.PrimWriteIdx(static_cast<ImDrawIdx>(first + index));
}

void FoldCanvas::dimension(ImVec2 a, ImVec2 b, ImU32 colour, float width) const {
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  if (length < 0.5F) {
    draw.AddCircle(a, scaled(4), colour, 0, width);
    return;
  }
  const ImVec2 way{(b.x - a.x) / length, (b.y - a.y) / length};
  const float arrow = scaled(kArrow);
  const bool outside = length < 3 * arrow;
  draw.AddLine(a, b, colour, width);
  const auto head = [&](ImVec2 tip, float sign) {
    const ImVec2 base{tip.x - sign * way.x * arrow, tip.y - sign * way.y * arrow};
    const ImVec2 side{-way.y * arrow * 0.42F, way.x * arrow * 0.42F};
    draw.AddTriangleFilled(tip, {base.x + side.x, base.y + side.y}, {base.x - side.x, base.y - side.y},
                           colour);
    if (outside)
      draw.AddLine(base, {base.x - sign * way.x * arrow, base.y - sign * way.y * arrow}, colour, width);
  };
  head(a, outside ? 1.0F : -1.0F);
  head(b, outside ? -1.0F : 1.0F);
}

ImVec2 tag_size(const std::string& text) {
  const ImVec2 size = ImGui::CalcTextSize(text.c_str());
  return {size.x + 2 * scaled(kTagPad), size.y + scaled(kTagPad)};
}

void FoldCanvas::tag(ImVec2 where, const std::string& text, ImU32 ink, ImU32 border) const {
  const ImVec2 size = tag_size(text);
  const ImVec2 from{where.x, where.y - size.y / 2};
  const ImVec2 until{from.x + size.x, from.y + size.y};
  draw.AddRectFilled(from, until, with_alpha(palette().paper, 0xE8), scaled(3));
  if (border) draw.AddRect(from, until, border, scaled(3), 0, scaled(1));
  draw.AddText({from.x + scaled(kTagPad), from.y + scaled(kTagPad) / 2}, ink, text.c_str());
}

}  // namespace haftwright::app
