// Numbers beside the pointer, guides that a drag has settled at, and how the grips look.
#include <algorithm>
#include <cfloat>
#include <cmath>

#include "fold_canvas.hpp"
#include "haftwright/preview/fold_marks.hpp"

namespace haftwright::app {
namespace {

/// The worst that is found about a pin.
void add_worst(const Ui& ui, std::size_t pin, std::vector<LiveLine>& lines) {
  const Answers* answers = ui.answers();
  if (!answers) return;
  for (const Finding& finding : answers->findings) {
    if (pin_of(finding.where) != pin) continue;
    lines.push_back({where_words(ui.design(), finding.where) + ": " +
                         amount(finding, finding.value, ui.unit()) +
                         (finding.sense == Sense::at_least ? " (min " : " (max ") +
                         amount(finding, finding.limit, ui.unit()) + ")",
                     finding.status});
    return;
  }
}

void paint_numbers(const FoldCanvas& to, std::vector<LiveLine> lines) {
  const std::vector<Problem>& problems = to.ui.document.problems();
  if (!problems.empty()) lines.insert(lines.begin(), {problems.front().what, Status::fail});
  if (lines.empty()) return;
  const float wrap = scaled(300);
  const float pad = scaled(8);
  const float icon = ImGui::GetFontSize();
  ImVec2 size{0, 0};
  std::vector<float> heights;
  const auto font_of = [&](const LiveLine& line) {
    return &line == &lines.front() && !line.status ? bold_font() : ImGui::GetFont();
  };
  for (const LiveLine& line : lines) {
    const ImVec2 text = font_of(line)->CalcTextSizeA(ImGui::GetFontSize(), FLT_MAX, wrap, line.text.c_str());
    size.x = std::max(size.x, text.x + (line.status ? icon + scaled(4) : 0));
    heights.push_back(text.y + scaled(2));
    size.y += heights.back();
  }
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const ImVec2 screen = ImGui::GetIO().DisplaySize;
  ImVec2 low{mouse.x + scaled(20), mouse.y - size.y - 2 * pad - scaled(12)};
  if (low.x + size.x + 2 * pad > screen.x) low.x = mouse.x - scaled(20) - size.x - 2 * pad;
  low.x = std::max(low.x, 0.0F);
  if (low.y < 0) low.y = mouse.y + scaled(24);
  // Over all panes, so that it is whole at the sheet's edge too.
  ImDrawList& draw = *ImGui::GetForegroundDrawList();
  const ImVec2 high{low.x + size.x + 2 * pad, low.y + size.y + 2 * pad};
  draw.AddRectFilled(low, high, ImGui::GetColorU32(ImGuiCol_PopupBg), scaled(4));
  draw.AddRect(low, high, palette().selected, scaled(4), 0, scaled(1));
  ImVec2 at{low.x + pad, low.y + pad};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    float indent = 0;
    if (lines[i].status) {
      status_mark(draw, {at.x + icon / 2, at.y + icon / 2}, icon * 0.4F, *lines[i].status);
      indent = icon + scaled(4);
    }
    draw.AddText(font_of(lines[i]), ImGui::GetFontSize(), {at.x + indent, at.y}, palette().ink,
                 lines[i].text.c_str(), nullptr, wrap);
    at.y += heights[i];
  }
}

/// A pin and a hole show themselves; the rest is a shape for its kind.
void paint_grip(const FoldCanvas& to, const Grip& grip, bool chosen, bool hovered) {
  const ImVec2 at = to.at(grip.at);
  const ImU32 colour = chosen ? palette().selected : palette().handle;
  const float r = scaled(chosen ? 7.0F : hovered ? 6.5F : 5.0F);
  const float width = scaled(chosen || hovered ? 2.5F : 1.8F);
  ImDrawList& draw = to.draw;
  if (chosen || hovered) draw.AddCircleFilled(at, r + scaled(6), with_alpha(colour, hovered ? 0x48 : 0x30));
  switch (grip.what.kind->look) {
    case GripLook::pin:
    case GripLook::cross: {
      const bool pin = grip.what.kind->look == GripLook::pin;
      const float arm = scaled(chosen ? 9.0F : pin ? 5.0F : 7.0F);
      const ImU32 cross = chosen || !pin ? colour : IM_COL32(30, 26, 20, 255);
      draw.AddLine({at.x - arm, at.y}, {at.x + arm, at.y}, cross, width);
      draw.AddLine({at.x, at.y - arm}, {at.x, at.y + arm}, cross, width);
      break;
    }
    case GripLook::diamond:
      draw.AddQuadFilled({at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y},
                         palette().paper);
      draw.AddQuad({at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y}, colour, width);
      break;
    case GripLook::square: {
      const float half = r * 0.8F;
      draw.AddRectFilled({at.x - half, at.y - half}, {at.x + half, at.y + half}, palette().paper);
      draw.AddRect({at.x - half, at.y - half}, {at.x + half, at.y + half}, colour, 0, 0, width);
      break;
    }
    case GripLook::dot:
      draw.AddCircleFilled(at, r * 0.6F, colour);
      break;
    case GripLook::ring:
      draw.AddCircleFilled(at, r, palette().paper);
      draw.AddCircle(at, r, colour, 0, width);
      break;
  }
}

}  // namespace

std::vector<LiveLine> live_lines(const Ui& ui, const Grip& grip) {
  std::vector<LiveLine> lines;
  const Answers* answers = ui.answers();
  const Selection& what = grip.what;
  if (!answers || !answers->laid_out() || !exists(ui.design(), what)) return lines;
  for (const std::string& line : what.kind->tell({ui.design(), ui.document.base(), *answers->handle}, what))
    lines.push_back({line, {}});
  if (what.kind == &draggable::pin) add_worst(ui, index_now(ui.design(), what), lines);
  return lines;
}

std::string grip_tip(const Ui& ui, const Grip& grip) {
  std::string tip = grip.label;
  for (const LiveLine& line : live_lines(ui, grip)) tip += "\n" + line.text;
  return tip + "\n\n" + grip.what.kind->how;
}

void paint_grips(const FoldCanvas& to, const std::vector<Grip>& all) {
  const auto paint = [&](bool chosen) {
    for (const Grip& grip : all)
      if ((grip.what == to.ui.selection) == chosen)
        paint_grip(to, grip, chosen, to.state.hovered && *to.state.hovered == grip.what);
  };
  paint(false);
  paint(true);
}

void paint_live(const FoldCanvas& to) {
  const Answers* answers = to.ui.answers();
  if (!to.state.held || !answers || !answers->laid_out()) return;
  const Grip& grip = *to.state.held;
  if (grip.what.kind == &draggable::pin) {
    const std::size_t held = index_now(to.ui.design(), grip.what);
    const Which face = grip.place.region == FoldRegion::right_face ? Which::right : Which::left;
    to.paint(draw_settled(to.ui.design(), to.state.map, to.state.bounds, held));
    to.paint(draw_neighbours(to.ui.design(), to.state.map, held, face));
  }
  paint_numbers(to, live_lines(to.ui, grip));
}

}  // namespace haftwright::app
