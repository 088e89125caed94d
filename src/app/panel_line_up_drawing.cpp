// Where each caliper reading is taken: both faces in plan, with a dimension for each.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "fold_canvas.hpp"
#include "haftwright/alignment/reading_place.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "panel_line_up.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr float kRow = 15;  // pixels at scale 1 between dimensions at one edge

/// The dimensions of one side at one edge stand one outside the other.
struct Row {
  CaliperReading reading;
  ReadingPlace place;
  bool marked = false;
};
using Rows = std::vector<Row>;

Rows rows_at(const Design& design, const Handle& handle, Which side, HandleEdge edge,
             const CaliperReading& marked) {
  Rows rows;
  const auto add = [&](const CaliperReading& reading, bool is_marked) {
    const bool step = reading.kind == ReadingKind::step;  // from one side's line to the other's
    if ((!step && reading.side != side) || reading.at != edge) return;
    CaliperReading on_side = reading;
    on_side.side = side;
    if (const auto place = reading_place(design, handle, on_side))
      rows.push_back({reading, *place, is_marked});
  };
  const auto listed = std::ranges::find(design.dry_fit, marked);
  for (auto one = design.dry_fit.begin(); one != design.dry_fit.end(); ++one) add(*one, one == listed);
  if (listed == design.dry_fit.end()) add(marked, true);
  return rows;
}

struct Face {
  ImDrawList& draw;
  const Design& design;
  const SideLayout& side;
  SheetFrame frame;
  bool lively = false;  ///< the marked reading is on it

  ImVec2 at(Vec2 p) const { return frame.to_screen(p); }

  void plain() const {
    const ImU32 ink = lively ? palette().ink : palette().faint_ink;
    std::vector<ImVec2> path;
    for (Vec2 p : polyline(side.finished, 0.05)) path.push_back(at(p));
    draw.AddPolyline(path.data(), static_cast<int>(path.size()), ink, ImDrawFlags_Closed, scaled(1.5F));
    for (const JointLayout& joint : side.joints)
      for (const JointLine& line : joint.lines)
        draw.AddLine(at({line.spine.inner.x, line.spine.inner.y}),
                     at({line.belly.inner.x, line.belly.inner.y}), ink, scaled(1.2F));
    for (const Pin& pin : design.pins)
      draw.AddCircle(at(pin.at_mm), static_cast<float>(pin.stock.diameter_mm() / 2 * frame.pixels_per_mm),
                     ink, 0, scaled(1.2F));
  }

  /// The dimension stands at height `y` on the screen.
  void dimension(const FoldCanvas& to, const Row& row, float y) const {
    const ImU32 colour = row.marked ? palette().selected : with_alpha(palette().faint_ink, 0xB0);
    const ImVec2 from = at(row.place.from);
    const ImVec2 until = at(row.place.to);
    const float thin = scaled(row.marked ? 1.4F : 0.8F);
    draw.AddLine(from, {from.x, y}, colour, thin);
    draw.AddLine(until, {until.x, y}, colour, thin);
    if (row.reading.kind == ReadingKind::length)
      to.dimension({from.x, y}, {until.x, y}, colour, scaled(row.marked ? 2.0F : 1.0F));
    if (!row.marked) return;
    draw.AddCircleFilled(until, scaled(4), colour);
    draw.AddCircleFilled(from, scaled(3), colour);
  }
};

void paint_face(const Ui& ui, const Design& design, const Handle& handle, Which which,
                const CaliperReading& marked) {
  const SideLayout& side = handle.side(which);
  const std::array<Rows, 2> rows{rows_at(design, handle, which, HandleEdge::spine, marked),
                                 rows_at(design, handle, which, HandleEdge::belly, marked)};
  const Bounds bounds = side.finished.bounds();
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const double scale = (width - scaled(24)) / bounds.size().x;
  const auto face = static_cast<float>(bounds.size().y * scale);
  const float row = scaled(kRow);
  const float above = row * static_cast<float>(rows[0].size()) + scaled(8) + ImGui::GetTextLineHeight();
  const float below = row * static_cast<float>(rows[1].size()) + scaled(8);
  const float height = above + face + below;
  ImGui::Dummy({width, height});
  tooltip(
      "Dots: from where to where the reading is taken; a step, from the line of one side to that of the "
      "other. The bold one is the one below.");
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled(low, {low.x + width, low.y + height}, palette().paper, scaled(4));
  draw.PushClipRect(low, {low.x + width, low.y + height}, true);
  const SheetFrame frame{
      {low.x + width / 2, low.y + above + face / 2}, (bounds.low + bounds.high) * 0.5, scale};
  const Face drawn{draw, design, side, frame, marked.side == which || marked.kind == ReadingKind::step};
  drawn.plain();
  draw.AddText({low.x + scaled(6), low.y + scaled(2)}, drawn.lively ? palette().ink : palette().faint_ink,
               which == Which::left ? "left, front at the left" : "right, as seen from the left");
  FoldViewState state;
  const FoldCanvas to{ui, state, draw};
  for (std::size_t i = 0; i < rows[0].size(); ++i)
    drawn.dimension(to, rows[0][i], low.y + above - row * (static_cast<float>(i) + 0.6F));
  for (std::size_t i = 0; i < rows[1].size(); ++i)
    drawn.dimension(to, rows[1][i], low.y + above + face + row * (static_cast<float>(i) + 0.6F));
  draw.PopClipRect();
}

}  // namespace

void dry_fit_drawing(const Ui& ui, const Design& design, const CaliperReading& marked) {
  const Handle& handle = *ui.answers()->handle;
  for (const Which side : {Which::left, Which::right}) paint_face(ui, design, handle, side, marked);
}

}  // namespace haftwright::app
