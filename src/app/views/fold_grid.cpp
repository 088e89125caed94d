// Lines at round distances over the sheet of the fold view, and the ruler along its lower edge.
#include <algorithm>
#include <cmath>

#include "fold_canvas.hpp"

namespace haftwright::app {
namespace {

constexpr FoldRegion kRegions[] = {FoldRegion::left_face, FoldRegion::edge_strip, FoldRegion::right_face};

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
  const FoldMap& map = to.state.map;
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

}  // namespace

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

}  // namespace haftwright::app
