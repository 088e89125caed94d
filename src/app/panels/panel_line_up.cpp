#include "panel_line_up.hpp"

#include <imgui.h>

#include <algorithm>

#include "haftwright/alignment/telling.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// In a line of its own, so that nothing jumps when it comes and goes.
void computing(bool busy) {
  ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(palette().faint_ink));
  ImGui::TextUnformatted(busy ? "being computed ..." : " ");
  ImGui::PopStyleColor();
  places::item("computing", busy ? "busy" : "done");
}

void headline(const Ui& ui, const LineUpShown& shown) {
  if (!shown.now) {
    wrapped("Handles are being sampled ...", true);
    return;
  }
  if (!shown.now->problem.empty()) {
    wrapped(shown.now->problem);
    return;
  }
  const WayReport& way = shown.now->report.ways[shown.now->report.chosen];
  if (!way.problem.empty()) {
    wrapped("With your way, " + std::string(drilling_words(way.way)) + ": " + way.problem);
    return;
  }
  ImGui::PushFont(title_font());
  wrapped("A step shows in " + percent_words(way.samples.any_shows.share));
  places::item("headline", "a step shows", percent_words(way.samples.any_shows.share));
  ImGui::PopFont();
  wrapped("of handles made your way: " + std::string(drilling_words(way.way)) +
          ". 95 of 100 have no step over " + small_length(way.samples.any_size_95, ui.unit()) +
          "; one of more than " + small_length(shown.now->design->rules.joint_step_mm, ui.unit()) +
          " shows.");
  if (!shown.whole || !shown.whole->problem.empty()) return;
  for (const SummaryLine& line : shown.whole->report.summary) {
    if (line.label == "Step") continue;  // stands above, of the newest design
    wrapped(std::string(line.label), true);
    wrapped(line.text);
    places::item("summary", std::string(line.label), line.text);
  }
}

}  // namespace

std::string measure_amount(double value, Measure::Kind kind, LengthUnit unit) {
  return kind == Measure::Kind::angle_deg ? format_number(value, 2) + "°" : small_length(value, unit);
}

void chance_bar(const Chance& chance, std::optional<double> before) {
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = scaled(12);
  const auto at = [&](double share) { return low.x + width * static_cast<float>(share); };
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled(low, {low.x + width, low.y + height}, palette().grid, scaled(2));
  draw.AddRectFilled(low, {at(chance.share), low.y + height}, palette().handle, scaled(2));
  // The interval: between two ticks, on a ground that parts it from the bar.
  const float middle = low.y + height / 2;
  for (const auto& [colour, thick] :
       {std::pair(palette().paper, scaled(4)), std::pair(palette().ink, scaled(1.6F))}) {
    draw.AddLine({at(chance.low), middle}, {at(chance.high), middle}, colour, thick);
    for (const double end : {chance.low, chance.high})
      draw.AddLine({at(end), low.y + scaled(2)}, {at(end), low.y + height - scaled(2)}, colour, thick);
  }
  if (before)
    draw.AddTriangleFilled({at(*before), low.y + height - scaled(5)},
                           {at(*before) - scaled(4), low.y + height + scaled(3)},
                           {at(*before) + scaled(4), low.y + height + scaled(3)}, palette().ink);
  ImGui::Dummy({width, height + scaled(before ? 3 : 0)});
}

namespace {

void before_drilling(const Ui& ui, const LineUpShown& shown, FoldShow& fold) {
  headline(ui, shown);
  check_box("Show it in the fold view", kSpreadTip, fold.spread);
  const bool answered = shown.now && shown.now->problem.empty();
  const WayReport* way = answered ? &shown.now->report.ways[shown.now->report.chosen] : nullptr;
  if (fold_out("ways", "Ways of drilling", "The same handle drilled each way; a click takes another.",
               true)) {
    line_up_ways(ui, shown);
    ImGui::TreePop();
  }
  if (way && way->problem.empty() &&
      fold_out("ends", "Joint ends", "How far each line's ends miss each other, likeliest to show first.",
               true)) {
    line_up_ends(ui, *way, fold);
    ImGui::TreePop();
  }
  if (shown.whole) line_up_helps(ui, shown);
  if (fold_out("settings", "How you drill",
               "How far things are off in your shop. The sizes are common practice until you measure yours.",
               false)) {
    line_up_settings(ui, way);
    ImGui::TreePop();
  }
}

}  // namespace

void line_up_panel(const Ui& ui, LineUpPane& pane, FoldShow& fold) {
  if (radio("Before drilling", "How far both sides may miss each other, and what would help.", !pane.dry_fit))
    pane.dry_fit = false;
  flow("After the dry fit []");
  if (radio("After the dry fit",
            "Caliper readings with the scales pinned on dry: how far it is off, and what can be done.",
            pane.dry_fit))
    pane.dry_fit = true;
  const LineUpShown shown = ask_line_up(ui);
  computing(ui.session.line_up().busy());
  ImGui::BeginChild(pane.dry_fit ? "dry fit" : "drilling");
  if (pane.dry_fit) {
    dry_fit_form(ui, shown, pane.form);
    dry_fit_answer(ui, shown);
  } else {
    before_drilling(ui, shown, fold);
  }
  ImGui::EndChild();
}

}  // namespace haftwright::app
