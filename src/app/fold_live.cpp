// Numbers beside the pointer, guides that a drag has settled at, and how the grips look.
#include <algorithm>
#include <cfloat>
#include <cmath>

#include "fold_canvas.hpp"

namespace haftwright::app {
namespace {

constexpr double kSettled = 1e-9;  // mm: a place that was snapped to is met to rounding

std::string signed_length(double mm, LengthUnit unit) {
  const std::string text = small_length(std::abs(mm), unit);
  return (mm < 0 ? "-" : "+") + text;
}

std::string place_text(Vec2 at, LengthUnit unit) {
  return small_length(at.x, unit) + " along,  " + small_length(at.y, unit) + " across";
}

std::string moved_text(Vec2 by, LengthUnit unit) {
  return "moved " + signed_length(by.x, unit) + ",  " + signed_length(by.y, unit);
}

Side side_of(const Design& design, Which side) {
  return side == Which::left ? design.left : design.right_side();
}

const std::vector<Node>* chain_of(const Design& design, const Selection& what) {
  if (!what.cutout) return &design.tang.outline;
  return *what.cutout < design.tang.cutouts.size() ? &design.tang.cutouts[*what.cutout] : nullptr;
}

/// The worst that is found about a pin.
void add_worst(const Ui& ui, std::size_t pin, std::vector<LiveLine>& lines) {
  const Answers* answers = ui.answers();
  if (!answers) return;
  for (const Finding& finding : answers->findings) {
    if (finding.pin != pin) continue;
    lines.push_back({finding.where + ": " + amount(finding, finding.value, ui.unit()) +
                         (finding.sense == Sense::at_least ? " (min " : " (max ") +
                         amount(finding, finding.limit, ui.unit()) + ")",
                     finding.status});
    return;
  }
}

void pin_lines(const Ui& ui, std::size_t index, std::vector<LiveLine>& lines) {
  const Design& design = ui.design();
  const Design& base = ui.document.base();
  if (index >= design.pins.size()) return;
  const Vec2 at = design.pins[index].at_mm;
  lines.push_back({place_text(at, ui.unit()), {}});
  if (index < base.pins.size() && base.pins[index].at_mm != at)
    lines.push_back({moved_text(at - base.pins[index].at_mm, ui.unit()), {}});
  const auto met = [](const std::vector<double>& places, double value) {
    return std::any_of(places.begin(), places.end(),
                       [&](double place) { return std::abs(place - value) < kSettled; });
  };
  if (met(even_spacings_mm(design, index), at.x)) lines.push_back({"evenly spaced", {}});
  if (at.y == 0)
    lines.push_back({"on the axis", {}});
  else if (met(level_places_mm(design, index), at.y))
    lines.push_back({"level with another pin", {}});
  add_worst(ui, index, lines);
}

void joint_lines(const Ui& ui, const Selection& what, std::vector<LiveLine>& lines) {
  const Side side = side_of(ui.design(), what.side);
  const Side before = side_of(ui.document.base(), what.side);
  if (what.index >= side.joints.size() || what.index >= before.joints.size()) return;
  const Joint& joint = side.joints[what.index];
  const Joint& was = before.joints[what.index];
  const auto turned = [&](const char* name, double deg, double from) {
    lines.push_back(
        {std::string(name) + format_number(deg, 1) + "°  (was " + format_number(from, 1) + "°)", {}});
  };
  if (what.kind == Selection::Kind::joint_slant)
    turned("slant ", joint.slant_deg, was.slant_deg);
  else if (what.kind == Selection::Kind::joint_rake)
    turned("rake ", joint.rake_deg, was.rake_deg);
  else
    lines.push_back({small_length(joint.place_mm, ui.unit()) + " along,  moved " +
                         signed_length(joint.place_mm - was.place_mm, ui.unit()),
                     {}});
  if (linked(ui.design(), SideField::joints)) {
    lines.push_back({"both sides move together", {}});
    return;
  }
  const Which other_side = what.side == Which::left ? Which::right : Which::left;
  const Side other = side_of(ui.design(), other_side);
  if (what.index >= other.joints.size()) return;
  const Joint& far = other.joints[what.index];
  const std::string whose = std::string(" the ") + name_of(other_side) + " side's";
  if (what.kind == Selection::Kind::joint)
    lines.push_back({far.place_mm == joint.place_mm
                         ? "level with" + whose
                         : small_length(std::abs(far.place_mm - joint.place_mm), ui.unit()) + " off" + whose,
                     {}});
  else {
    const bool slant = what.kind == Selection::Kind::joint_slant;
    const double off = slant ? far.slant_deg - joint.slant_deg : far.rake_deg - joint.rake_deg;
    lines.push_back({off == 0 ? "same as" + whose : format_number(std::abs(off), 1) + "° off" + whose, {}});
  }
}

void station_lines(const Ui& ui, const Selection& what, std::vector<LiveLine>& lines) {
  const Side side = side_of(ui.design(), what.side);
  const Answers* answers = ui.answers();
  if (what.index >= side.finish.thickness_mm.size() || !answers || !answers->laid_out()) return;
  const MonotoneCubic::Station& station = side.finish.thickness_mm[what.index];
  const Handle& handle = *answers->handle;
  const auto crest = [&](const SideLayout& layout) {
    return layout.surface.crown_mm({station.x, layout.surface.shape().crest_y_mm});
  };
  lines.push_back(
      {small_length(station.value, ui.unit()) + " thick at " + small_length(station.x, ui.unit()), {}});
  lines.push_back({"overall " + small_length(handle.tang_thickness_mm(station.x) + crest(handle.left) +
                                                 crest(handle.right),
                                             ui.unit()),
                   {}});
  if (linked(ui.design(), SideField::finish)) lines.push_back({"both sides move together", {}});
}

void outline_lines(const Ui& ui, const Selection& what, std::vector<LiveLine>& lines) {
  const std::vector<Node>* chain = chain_of(ui.design(), what);
  if (!chain || what.index >= chain->size()) return;
  const Node& node = (*chain)[what.index];
  if (what.kind == Selection::Kind::node) {
    lines.push_back({place_text(node.at, ui.unit()), {}});
    const std::vector<Node>* before = chain_of(ui.document.base(), what);
    if (before && what.index < before->size() && (*before)[what.index].at != node.at)
      lines.push_back({moved_text(node.at - (*before)[what.index].at, ui.unit()), {}});
    return;
  }
  const Edge edge(node.at, (*chain)[(what.index + 1) % chain->size()].at, node.bulge);
  lines.push_back(
      {edge.is_arc() ? "radius " + small_length(std::abs(edge.radius), ui.unit()) : "straight", {}});
  lines.push_back(
      {"rises " + small_length(edge_rise_mm(ui.design(), {what.cutout}, what.index).value_or(0), ui.unit()),
       {}});
}

/// Distances along the handle from the held pin to its neighbours.
void paint_neighbours(const FoldCanvas& to, const Grip& grip) {
  const std::vector<Pin>& pins = to.ui.design().pins;
  if (grip.what.index >= pins.size()) return;
  const Vec2 at = pins[grip.what.index].at_mm;
  const Pin* ahead = nullptr;
  const Pin* behind = nullptr;
  for (const Pin& pin : pins) {
    if (pin.at_mm.x < at.x && (!ahead || pin.at_mm.x > ahead->at_mm.x)) ahead = &pin;
    if (pin.at_mm.x > at.x && (!behind || pin.at_mm.x < behind->at_mm.x)) behind = &pin;
  }
  const Which side = grip.place.region == FoldRegion::right_face ? Which::right : Which::left;
  for (const Pin* other : {ahead, behind}) {
    if (!other) continue;
    const FoldMap& map = to.state.drawing.map;
    const ImVec2 a = to.at(map.on_face(side, at));
    const ImVec2 b{to.at(map.on_face(side, other->at_mm)).x, a.y};
    to.dimension(a, b, palette().selected, scaled(1.4F));
    const std::string text = small_length(std::abs(other->at_mm.x - at.x), to.ui.unit());
    to.tag({(a.x + b.x) / 2 - tag_size(text).x / 2, a.y}, text, palette().ink);
  }
}

/// Where the held pin has settled: a line across, or along, on both faces.
void paint_guides(const FoldCanvas& to, const Grip& grip) {
  if (grip.what.index >= to.ui.design().pins.size()) return;
  const Vec2 at = to.ui.design().pins[grip.what.index].at_mm;
  const FoldDrawing& drawing = to.state.drawing;
  const auto line = [&](Vec2 a, Vec2 b) { to.dashed({a, b}, false, palette().selected, scaled(1.2F)); };
  for (double x : even_spacings_mm(to.ui.design(), grip.what.index))
    if (std::abs(x - at.x) < kSettled) line({x, drawing.low.y - 4}, {x, drawing.high.y + 4});
  for (double y : level_places_mm(to.ui.design(), grip.what.index))
    if (std::abs(y - at.y) < kSettled)
      for (Which side : {Which::left, Which::right})
        line(drawing.map.on_face(side, {drawing.low.x - 4, y}),
             drawing.map.on_face(side, {drawing.high.x + 4, y}));
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
  switch (grip.what.kind) {
    case Selection::Kind::pin:
    case Selection::Kind::tang_hole:
    case Selection::Kind::cutout: {
      const bool pin = grip.what.kind == Selection::Kind::pin;
      const float arm = scaled(chosen ? 9.0F : pin ? 5.0F : 7.0F);
      const ImU32 cross = chosen || !pin ? colour : IM_COL32(30, 26, 20, 255);
      draw.AddLine({at.x - arm, at.y}, {at.x + arm, at.y}, cross, width);
      draw.AddLine({at.x, at.y - arm}, {at.x, at.y + arm}, cross, width);
      break;
    }
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      draw.AddQuadFilled({at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y},
                         palette().paper);
      draw.AddQuad({at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y}, colour, width);
      break;
    case Selection::Kind::station:
    case Selection::Kind::node: {
      const float half = r * 0.8F;
      draw.AddRectFilled({at.x - half, at.y - half}, {at.x + half, at.y + half}, palette().paper);
      draw.AddRect({at.x - half, at.y - half}, {at.x + half, at.y + half}, colour, 0, 0, width);
      break;
    }
    case Selection::Kind::edge:
      draw.AddCircleFilled(at, r * 0.6F, colour);
      break;
    default:
      draw.AddCircleFilled(at, r, palette().paper);
      draw.AddCircle(at, r, colour, 0, width);
      break;
  }
}

}  // namespace

std::vector<LiveLine> live_lines(const Ui& ui, const Grip& grip) {
  std::vector<LiveLine> lines;
  const Selection& what = grip.what;
  switch (what.kind) {
    case Selection::Kind::pin:
      pin_lines(ui, what.index, lines);
      break;
    case Selection::Kind::joint:
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      joint_lines(ui, what, lines);
      break;
    case Selection::Kind::station:
      station_lines(ui, what, lines);
      break;
    case Selection::Kind::node:
    case Selection::Kind::edge:
      outline_lines(ui, what, lines);
      break;
    case Selection::Kind::tang_hole:
      if (what.index < ui.design().tang.holes.size())
        lines.push_back({place_text(ui.design().tang.holes[what.index].at_mm, ui.unit()), {}});
      break;
    case Selection::Kind::cutout:
    case Selection::Kind::none:
      break;
  }
  return lines;
}

std::string grip_tip(const Ui& ui, const Grip& grip) {
  std::string tip = grip.label;
  for (const LiveLine& line : live_lines(ui, grip)) tip += "\n" + line.text;
  switch (grip.what.kind) {
    case Selection::Kind::pin:
    case Selection::Kind::node:
    case Selection::Kind::tang_hole:
    case Selection::Kind::cutout:
      return tip + "\n\nDrag it; Shift keeps to along the handle.";
    case Selection::Kind::joint:
      return tip + "\n\nDrag it along the axis.";
    case Selection::Kind::joint_slant:
    case Selection::Kind::joint_rake:
      return tip + "\n\nDrag it along the handle to turn the joint about its place on the axis.";
    case Selection::Kind::station:
      return tip + "\n\nDrag it out or in for the thickness, along for its place; Shift keeps its place.";
    case Selection::Kind::edge:
      return tip + "\n\nDrag it to bend the edge; near straight it becomes straight.";
    case Selection::Kind::none:
      break;
  }
  return tip;
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
  if (grip.what.kind == Selection::Kind::pin) {
    paint_guides(to, grip);
    paint_neighbours(to, grip);
  }
  paint_numbers(to, live_lines(to.ui, grip));
}

}  // namespace haftwright::app
