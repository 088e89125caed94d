// How the fold view's drawing looks: grid, areas, lines, holes, captions.
#include <algorithm>
#include <cmath>

#include "fold_canvas.hpp"

namespace haftwright::app {
namespace {

constexpr FoldRegion kRegions[] = {FoldRegion::left_face, FoldRegion::edge_strip, FoldRegion::right_face};

ImU32 packed(const Colour& colour, float alpha) {
  return ImGui::ColorConvertFloat4ToU32({colour.red, colour.green, colour.blue, alpha});
}

struct GridStep {
  double step_mm = 1;
  int to_heavy = 10;  ///< every which line is a heavier one
};

/// Lines no closer than a finger: 1, 5, 10, 50 ... mm, or sixteenths of an inch doubled over and over.
GridStep grid_step(const FoldCanvas& to) {
  const bool metric = to.ui.unit() == LengthUnit::millimetre;
  GridStep grid{metric ? 1 : kMmPerInch / 16, metric ? 5 : 4};
  for (int i = 0; to.pixels(grid.step_mm) < scaled(18) && i < 12; ++i) {
    grid.step_mm *= metric ? (i % 2 == 0 ? 5 : 2) : 2;
    grid.to_heavy = metric ? (i % 2 == 0 ? 2 : 5) : 4;
  }
  return grid;
}

void paint_grid_across(const FoldCanvas& to, const GridStep& grid) {
  const auto [low, high] = std::pair(to.state.low, to.state.high);
  const FoldMap& map = to.state.drawing.map;
  for (FoldRegion region : kRegions) {
    const double a = map.to_handle(to.state.frame.to_drawing({low.x, high.y}), region).y_or_z_mm;
    const double b = map.to_handle(to.state.frame.to_drawing({low.x, low.y}), region).y_or_z_mm;
    const double until = std::max(a, b) / grid.step_mm;
    for (double n = std::ceil(std::min(a, b) / grid.step_mm); n <= until; ++n) {
      const Vec2 drawn = map.to_drawing({region, 0, n * grid.step_mm});
      if (map.to_handle(drawn).region != region) continue;
      const float y = to.at(drawn).y;
      const bool heavy = std::lround(n) % grid.to_heavy == 0;
      to.draw.AddLine({low.x, y}, {high.x, y}, with_alpha(palette().grid, heavy ? 0xFF : 0x80));
    }
  }
}

void paint_grid(const FoldCanvas& to) {
  const auto [low, high] = std::pair(to.state.low, to.state.high);
  const GridStep grid = grid_step(to);
  paint_grid_across(to, grid);
  const double from = to.state.frame.to_drawing(low).x / grid.step_mm;
  const double until = to.state.frame.to_drawing(high).x / grid.step_mm;
  for (double n = std::ceil(from); n <= until; ++n) {
    const float x = to.at({n * grid.step_mm, 0}).x;
    const bool heavy = std::lround(n) % grid.to_heavy == 0;
    to.draw.AddLine({x, low.y}, {x, high.y}, with_alpha(palette().grid, heavy ? 0xFF : 0x80));
  }
}

/// Along the lower edge: how far behind the front of the frame.
void paint_ruler(const FoldCanvas& to) {
  const auto [low, high] = std::pair(to.state.low, to.state.high);
  const GridStep grid = grid_step(to);
  const double step = grid.step_mm * grid.to_heavy;
  const bool metric = to.ui.unit() == LengthUnit::millimetre;
  const float y = high.y - ImGui::GetFontSize() - scaled(3);
  const float limit = high.x - scaled(10);
  float last = -1e9F;
  const double until = to.state.frame.to_drawing(high).x / step;
  for (double n = std::ceil(to.state.frame.to_drawing(low).x / step); n <= until; ++n) {
    const std::string text = metric ? format_number(n * step, 0) : format_length(n * step, to.ui.unit());
    const float width = ImGui::CalcTextSize(text.c_str()).x;
    const float x = to.at({n * step, 0}).x - width / 2;
    if (x < std::max(last + scaled(10), low.x) || x + width > limit) continue;
    to.draw.AddText({x, y}, palette().faint_ink, text.c_str());
    last = x + width;
  }
}

void paint_areas(const FoldCanvas& to) {
  const std::vector<FoldArea>& areas = to.state.drawing.areas;
  for (std::size_t i = 0; i < areas.size(); ++i)
    to.filled(areas[i], to.state.triangles[i], packed(areas[i].colour, 1));
}

void paint_line(const FoldCanvas& to, const FoldLine& line) {
  const Palette& colours = palette();
  const float thin = scaled(1.2F);
  switch (line.kind) {
    case FoldLineKind::finished_outline:
      return to.path(line.points, line.closed, colours.ink, scaled(1.8F));
    case FoldLineKind::tang_outline:
      return to.dashed(line.points, line.closed, colours.faint_ink, thin);
    case FoldLineKind::cutout:
      to.dashed(line.points, line.closed, with_alpha(colours.paper, 0xB0), scaled(3));
      return to.dashed(line.points, line.closed, colours.ink, scaled(1.4F));
    case FoldLineKind::joint_surface:
    case FoldLineKind::strip_joint:
    case FoldLineKind::front_surface:
    case FoldLineKind::strip_front:
      // On a ground of the other shade, so that it holds on light wood and on dark.
      to.path(line.points, line.closed, with_alpha(colours.paper, 0xA0), scaled(3));
      return to.path(line.points, line.closed, colours.ink, scaled(1.5F));
    case FoldLineKind::joint_inner:
    case FoldLineKind::front_inner:
    case FoldLineKind::fold_link:
      return to.dashed(line.points, line.closed, colours.faint_ink, thin);
    case FoldLineKind::strip_crest:
      return to.path(line.points, line.closed, with_alpha(colours.ink, 0xB0), scaled(1.4F));
    case FoldLineKind::strip_layer:
    case FoldLineKind::round_over_rim:
      return to.path(line.points, line.closed, with_alpha(colours.ink, 0x50), thin);
  }
}

void paint_bands(const FoldCanvas& to) {
  for (const FoldBand& band : to.state.drawing.bands) {
    const ImVec2 low = to.at({band.low.x, band.high.y});
    const ImVec2 high = to.at({band.high.x, band.low.y});
    const std::vector<Vec2> rim{band.low, {band.high.x, band.low.y}, band.high, {band.low.x, band.high.y}};
    switch (band.kind) {
      case FoldCircleKind::pin:
        to.draw.AddRectFilled(low, high, with_alpha(palette().pin, 0x80));
        break;
      case FoldCircleKind::pin_bore:
        to.draw.AddRectFilled(low, high, with_alpha(palette().paper, 0xA0));
        break;
      case FoldCircleKind::scale_hole:
      case FoldCircleKind::liner_hole:
      case FoldCircleKind::tang_hole:
        to.draw.AddRect(low, high, with_alpha(palette().ink, 0x70), 0, 0, scaled(1));
        break;
      case FoldCircleKind::existing_tang_hole:
        to.dashed(rim, true, palette().handle, scaled(1.4F));
        break;
      case FoldCircleKind::cutout:
        to.draw.AddRectFilled(low, high, with_alpha(palette().paper, 0x90));
        to.dashed(rim, true, palette().ink, scaled(1.2F));
        break;
    }
  }
}

void paint_circles(const FoldCanvas& to) {
  for (const FoldCircle& circle : to.state.drawing.circles) {
    const ImVec2 centre = to.at(circle.centre);
    const float radius = to.pixels(circle.radius_mm);
    switch (circle.kind) {
      case FoldCircleKind::pin:
        to.draw.AddCircleFilled(centre, radius, palette().pin);
        break;
      case FoldCircleKind::pin_bore:
        to.draw.AddCircleFilled(centre, radius, palette().paper);
        break;
      case FoldCircleKind::scale_hole:
        to.draw.AddCircle(centre, radius, palette().ink, 0, scaled(1.4F));
        break;
      case FoldCircleKind::liner_hole:
        to.draw.AddCircle(centre, radius, palette().faint_ink, 0, scaled(1));
        break;
      case FoldCircleKind::tang_hole:
        to.dashed_circle(centre, radius, palette().ink, scaled(1));
        break;
      case FoldCircleKind::existing_tang_hole:
        to.dashed_circle(centre, radius, palette().handle, scaled(1.8F));
        break;
      case FoldCircleKind::cutout:
        break;
    }
  }
}

/// The axis of each face, and the middle of the tang on the strip.
void paint_axes(const FoldCanvas& to) {
  const double from = to.state.drawing.low.x - 3;
  const double until = to.state.drawing.high.x + 3;
  for (FoldRegion region : {FoldRegion::left_face, FoldRegion::right_face}) {
    const FoldMap& map = to.state.drawing.map;
    to.dashed({map.to_drawing({region, from, 0}), map.to_drawing({region, until, 0})}, false,
              with_alpha(palette().ink, 0x38), scaled(1));
  }
}

void paint_captions(const FoldCanvas& to) {
  const Answers* answers = to.ui.answers();
  if (!answers || !answers->laid_out()) return;
  const FoldMap& map = to.state.drawing.map;
  const auto caption = [&](Vec2 end, const char* text) {
    const ImVec2 size = ImGui::CalcTextSize(text);
    ImVec2 p = to.at(end);
    // Beside the drawing, or over it where there is no room beside it.
    p.x = std::clamp(p.x + scaled(10), to.state.low.x + scaled(6),
                     std::max(to.state.low.x + scaled(6), to.state.high.x - size.x - scaled(8)));
    to.tag({p.x, p.y}, text, palette().faint_ink);
  };
  const double x = to.state.drawing.high.x;
  caption(map.on_face(Which::left, {x, 0}), "left");
  caption(map.on_face(Which::right, {x, 0}), "right");
  caption(map.on_strip(x, 0), map.about() == FoldAbout::spine ? "spine" : "belly");
}

}  // namespace

void paint_drawing(const FoldCanvas& to) {
  if (to.state.drawn_revision == 0) return;
  if (to.state.grid) paint_grid(to);
  paint_areas(to);
  paint_axes(to);
  for (const FoldLine& line : to.state.drawing.lines) paint_line(to, line);
  paint_bands(to);
  paint_circles(to);
  paint_captions(to);
  if (to.state.grid) paint_ruler(to);
}

}  // namespace haftwright::app
