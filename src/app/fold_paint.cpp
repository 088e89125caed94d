// How the fold view looks: areas, lines, holes, grips, and the distances that checks complain of.
#include <algorithm>
#include <cmath>

#include "fold_view.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

ImU32 packed(const Colour& colour, float alpha) {
  return ImGui::ColorConvertFloat4ToU32({colour.red, colour.green, colour.blue, alpha});
}

struct Painter {
  const Ui& ui;
  const FoldViewState& state;
  ImDrawList& draw;

  ImVec2 at(Vec2 p) const { return state.frame.to_screen(p); }
  float pixels(double mm) const { return static_cast<float>(mm * state.frame.pixels_per_mm); }

  void path(const std::vector<Vec2>& points, bool closed, ImU32 colour, float width) const {
    for (Vec2 p : points) draw.PathLineTo(at(p));
    draw.PathStroke(colour, closed ? ImDrawFlags_Closed : ImDrawFlags_None, width);
  }

  /// Short strokes, for what lies hidden.
  void dashed(const std::vector<Vec2>& points, ImU32 colour, float width) const {
    const float dash = scaled(5);
    float along = 0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      const ImVec2 a = at(points[i]);
      const ImVec2 b = at(points[i + 1]);
      const float length = std::hypot(b.x - a.x, b.y - a.y);
      for (float t = 0; t < length;) {
        const float phase = std::fmod(along + t, 2 * dash);
        const float run = std::min(length - t, phase < dash ? dash - phase : 2 * dash - phase);
        if (phase < dash)
          draw.AddLine({a.x + (b.x - a.x) * t / length, a.y + (b.y - a.y) * t / length},
                       {a.x + (b.x - a.x) * (t + run) / length, a.y + (b.y - a.y) * (t + run) / length},
                       colour, width);
        t += std::max(run, 0.1F);
      }
      along += length;
    }
  }

  void filled(const FoldArea& area, const std::vector<std::array<std::uint32_t, 3>>& triangles,
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
};

void paint_grid(const Painter& to, ImVec2 low, ImVec2 high) {
  double step = to.ui.unit() == LengthUnit::millimetre ? 1 : kMmPerInch / 16;
  for (int i = 0; to.pixels(step) < scaled(40) && i < 12; ++i) {
    if (to.ui.unit() == LengthUnit::millimetre)
      step *= i % 2 == 0 ? 5 : 2;
    else
      step *= 2;
  }
  const Vec2 from = to.state.frame.to_drawing({low.x, high.y});
  const Vec2 until = to.state.frame.to_drawing({high.x, low.y});
  for (double x = std::ceil(from.x / step) * step; x <= until.x; x += step) {
    const float sx = to.at({x, 0}).x;
    to.draw.AddLine({sx, low.y}, {sx, high.y}, palette().grid);
    const std::string text =
        to.ui.unit() == LengthUnit::millimetre ? format_number(x, 0) : format_length(x, to.ui.unit());
    if (to.pixels(step) < ImGui::CalcTextSize(text.c_str()).x + scaled(8) && std::lround(x / step) % 2 != 0)
      continue;
    to.draw.AddText({sx + scaled(3), high.y - ImGui::GetFontSize() - scaled(2)}, palette().faint_ink,
                    text.c_str());
  }
  for (double y = std::ceil(from.y / step) * step; y <= until.y; y += step) {
    const float sy = to.at({0, y}).y;
    to.draw.AddLine({low.x, sy}, {high.x, sy}, palette().grid);
  }
}

void paint_areas(const Painter& to) {
  const std::vector<FoldArea>& areas = to.state.drawing.areas;
  for (std::size_t i = 0; i < areas.size(); ++i)
    to.filled(areas[i], to.state.triangles[i], packed(areas[i].colour, 1));
}

void paint_lines(const Painter& to) {
  const float thin = scaled(1.2F);
  for (const FoldLine& line : to.state.drawing.lines) {
    switch (line.kind) {
      case FoldLineKind::finished_outline:
        to.path(line.points, line.closed, palette().ink, scaled(1.8F));
        break;
      case FoldLineKind::tang_outline:
      case FoldLineKind::cutout:
        to.path(line.points, line.closed, palette().faint_ink, thin);
        break;
      case FoldLineKind::joint_surface:
      case FoldLineKind::strip_joint:
      case FoldLineKind::front_surface:
      case FoldLineKind::strip_front:
        to.path(line.points, line.closed, palette().ink, scaled(1.6F));
        break;
      case FoldLineKind::joint_inner:
      case FoldLineKind::front_inner:
      case FoldLineKind::fold_link:
        to.dashed(line.points, palette().faint_ink, thin);
        break;
      case FoldLineKind::strip_layer:
      case FoldLineKind::strip_crest:
      case FoldLineKind::round_over_rim:
        to.path(line.points, line.closed, (palette().ink & 0x00FFFFFFU) | 0x50000000U, thin);
        break;
    }
  }
}

void paint_pins(const Painter& to) {
  for (const FoldBand& band : to.state.drawing.bands) {
    if (band.kind != FoldCircleKind::pin) continue;
    to.draw.AddRectFilled(to.at({band.low.x, band.high.y}), to.at({band.high.x, band.low.y}),
                          (palette().pin & 0x00FFFFFFU) | 0x70000000U);
  }
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
        to.draw.AddCircle(centre, radius, palette().ink, 0, scaled(1.2F));
        break;
      case FoldCircleKind::existing_tang_hole:
        to.draw.AddCircle(centre, radius, palette().handle, 0, scaled(1.2F));
        break;
      default:
        to.draw.AddCircle(centre, radius, palette().faint_ink, 0, scaled(1));
        break;
    }
  }
}

void paint_grips(const Painter& to) {
  const std::vector<Grip> all = grips(to.ui, to.state);
  for (const Grip& grip : all) {
    const ImVec2 at = to.at(grip.at);
    const bool chosen = grip.what == to.ui.selection;
    const ImU32 colour = chosen ? palette().selected : palette().handle;
    const float r = scaled(chosen ? 7.0F : 5.0F);
    switch (grip.what.kind) {
      case Selection::Kind::pin: {
        const float arm = scaled(chosen ? 9.0F : 5.0F);
        const float width = scaled(chosen ? 2.5F : 1.5F);
        to.draw.AddLine({at.x - arm, at.y}, {at.x + arm, at.y}, chosen ? colour : palette().ink, width);
        to.draw.AddLine({at.x, at.y - arm}, {at.x, at.y + arm}, chosen ? colour : palette().ink, width);
        break;
      }
      case Selection::Kind::joint_slant:
      case Selection::Kind::joint_rake:
        to.draw.AddQuadFilled({at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y},
                              palette().paper);
        to.draw.AddQuad({at.x, at.y - r}, {at.x + r, at.y}, {at.x, at.y + r}, {at.x - r, at.y}, colour,
                        scaled(2));
        break;
      case Selection::Kind::station:
      case Selection::Kind::node:
        to.draw.AddRectFilled({at.x - r * 0.8F, at.y - r * 0.8F}, {at.x + r * 0.8F, at.y + r * 0.8F},
                              palette().paper);
        to.draw.AddRect({at.x - r * 0.8F, at.y - r * 0.8F}, {at.x + r * 0.8F, at.y + r * 0.8F}, colour, 0, 0,
                        scaled(2));
        break;
      default:
        to.draw.AddCircleFilled(at, r, palette().paper);
        to.draw.AddCircle(at, r, colour, 0, scaled(2));
        break;
    }
  }
}

void paint_captions(const Painter& to) {
  const Answers* answers = to.ui.answers();
  if (!answers || !answers->laid_out()) return;
  const Bounds& bounds = answers->handle->left.finished.bounds();
  const double x = bounds.high.x + 4;
  const auto caption = [&](Vec2 drawing, const char* text) {
    const ImVec2 p = to.at(drawing);
    to.draw.AddText({p.x, p.y - ImGui::GetFontSize() / 2}, palette().faint_ink, text);
  };
  const FoldMap& map = to.state.drawing.map;
  caption(map.on_face(Which::left, {x, 0}), "left side");
  caption(map.on_face(Which::right, {x, 0}), "right side");
  caption(map.on_strip(x, 0), map.about() == FoldAbout::spine ? "spine" : "belly");
}

std::string live_text(const Ui& ui, const Grip& grip, const Handle& handle) {
  const Design& design = ui.design();
  const LengthUnit unit = ui.unit();
  const std::size_t index = grip.what.index;
  const Side side = grip.what.side == Which::left ? design.left : design.right_side();
  switch (grip.what.kind) {
    case Selection::Kind::pin:
      return index < design.pins.size() ? small_length(design.pins[index].at_mm.x, unit) + ", " +
                                              small_length(design.pins[index].at_mm.y, unit)
                                        : "";
    case Selection::Kind::joint:
      return index < side.joints.size() ? small_length(side.joints[index].place_mm, unit) : "";
    case Selection::Kind::joint_slant:
      return index < side.joints.size() ? format_number(side.joints[index].slant_deg, 1) + "° slant" : "";
    case Selection::Kind::joint_rake:
      return index < side.joints.size() ? format_number(side.joints[index].rake_deg, 1) + "° rake" : "";
    case Selection::Kind::station:
      if (index >= side.finish.thickness_mm.size()) return "";
      return small_length(side.finish.thickness_mm[index].value, unit) + " at " +
             small_length(side.finish.thickness_mm[index].x, unit) + "; overall " +
             small_length(handle.tang_thickness_mm(side.finish.thickness_mm[index].x) +
                              handle.left.surface.crown_mm({side.finish.thickness_mm[index].x,
                                                            handle.left.surface.shape().crest_y_mm}) +
                              handle.right.surface.crown_mm({side.finish.thickness_mm[index].x,
                                                             handle.right.surface.shape().crest_y_mm}),
                          unit);
    default:
      return "";
  }
}

void paint_live(const Painter& to) {
  const Answers* answers = to.ui.answers();
  if (!to.state.held || !answers || !answers->laid_out()) return;
  std::string text = live_text(to.ui, *to.state.held, *answers->handle);
  if (!to.ui.document.problems().empty()) text = to.ui.document.problems().front().what;
  if (text.empty()) return;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  const ImVec2 size = ImGui::CalcTextSize(text.c_str(), nullptr, false, scaled(420));
  const ImVec2 low{mouse.x + scaled(16), mouse.y - size.y - scaled(14)};
  const float pad = scaled(6);
  to.draw.AddRectFilled({low.x - pad, low.y - pad}, {low.x + size.x + pad, low.y + size.y + pad},
                        ImGui::GetColorU32(ImGuiCol_PopupBg), scaled(4));
  to.draw.AddText(ImGui::GetFont(), ImGui::GetFontSize(), low, palette().ink, text.c_str(), nullptr,
                  scaled(420));
}

}  // namespace

std::vector<Vec2> shown_at(const FoldMap& map, const Handle& handle, Vec3 place) {
  const Vec2 plan{place.x, place.y};
  // What lies inside the steel is the same on both faces.
  const double steel = handle.tang_thickness_mm(place.x) / 2 - 1e-6;
  if (place.z > steel) return {map.on_face(Which::left, plan)};
  if (place.z < -steel) return {map.on_face(Which::right, plan)};
  return {map.on_face(Which::left, plan), map.on_face(Which::right, plan)};
}

void paint_fold(const Ui& ui, const FoldViewState& state, ImDrawList& draw) {
  const Painter to{ui, state, draw};
  paint_grid(to, draw.GetClipRectMin(), draw.GetClipRectMax());
  if (state.drawn_revision == 0) return;
  paint_areas(to);
  paint_lines(to);
  paint_pins(to);
  paint_captions(to);
  paint_grips(to);
  paint_live(to);
}

void paint_findings(const Ui& ui, const FoldViewState& state, ImDrawList& draw) {
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out()) return;
  const Painter to{ui, state, draw};
  const Handle& handle = *answers->handle;
  for (const Finding& finding : answers->findings) {
    const bool chosen = finding.id + finding.where == ui.pointer.finding;
    if ((finding.status == Status::pass && !chosen) || !finding.place) continue;
    const ImU32 colour =
        chosen && finding.status == Status::pass ? palette().selected : colour_of(finding.status);
    const std::vector<Vec2> from = shown_at(state.drawing.map, handle, *finding.place);
    const std::vector<Vec2> until =
        finding.to ? shown_at(state.drawing.map, handle, *finding.to) : std::vector<Vec2>{};
    for (std::size_t i = 0; i < from.size(); ++i) {
      const ImVec2 a = to.at(from[i]);
      if (finding.to && until.size() == from.size()) {
        const ImVec2 b = to.at(until[i]);
        draw.AddLine(a, b, colour, scaled(2.5F));
        const std::string text = amount(finding, finding.value, ui.unit());
        const ImVec2 size = ImGui::CalcTextSize(text.c_str());
        const ImVec2 low{(a.x + b.x) / 2 + scaled(6), (a.y + b.y) / 2 - size.y / 2};
        draw.AddRectFilled({low.x - scaled(3), low.y}, {low.x + size.x + scaled(3), low.y + size.y},
                           palette().paper, scaled(3));
        draw.AddText(low, colour, text.c_str());
      }
      status_mark(draw, a, scaled(chosen ? 9.0F : 6.5F), finding.status);
    }
  }
  // The wall each hole has to keep: a ring round it as wide as its own finding asks.
  for (const Finding& finding : answers->findings) {
    if (finding.id != "hole.edge" || !finding.pin || !finding.place || *finding.pin >= handle.pins.size())
      continue;
    const Pin& pin = answers->design->pins[*finding.pin];
    const Which side = finding.place->z >= 0 ? Which::left : Which::right;
    draw.AddCircle(to.at(state.drawing.map.on_face(side, pin.at_mm)),
                   to.pixels(pin.scale_hole.actual_mm() / 2 + finding.limit),
                   (colour_of(finding.status) & 0x00FFFFFFU) | 0xA0000000U, 0, scaled(1.4F));
  }
}

}  // namespace haftwright::app
