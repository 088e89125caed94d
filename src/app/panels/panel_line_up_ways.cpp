// The ways of drilling side by side, what makes up the spread, and what one change would do.
#include <imgui.h>

#include <algorithm>

#include "haftwright/alignment/telling.hpp"
#include "panel_line_up.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

constexpr double kLeastShare = 0.005;  // a thinner bar can't be seen

std::string sure_text(const Chance& chance) {
  return percent_words(chance.share) + " (between " + percent_words(chance.low) + " and " +
         percent_words(chance.high) + ", 95 % sure)";
}

std::string way_tip(const Ui& ui, const WayRow& row, const WayReport* way) {
  std::string tip = std::string(row.how) + "\nThe same for both sides: " + std::string(row.shared);
  if (way && way->problem.empty())
    tip += "\nA step shows in " + sure_text(way->samples.any_shows) + ".\n95 of 100 have no step over " +
           small_length(way->samples.any_size_95, ui.unit()) + ".\nPins bind in " +
           sure_text(way->samples.no_fit) + ".";
  return tip + "\nClick to drill this way.";
}

/// As a round button is marked.
void choice_mark(bool chosen) {
  const float size = ImGui::GetTextLineHeight();
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const ImVec2 centre{low.x + size / 2, low.y + size / 2};
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddCircle(centre, size * 0.4F, palette().ink, 0, scaled(1.4F));
  if (chosen) draw.AddCircleFilled(centre, size * 0.24F, palette().handle);
  ImGui::Dummy({size, size});
}

void way_content(const Ui& ui, const WayRow& row, const WayReport* way, bool chosen) {
  choice_mark(chosen);
  ImGui::SameLine();
  ImGui::BeginGroup();
  if (chosen) ImGui::PushFont(bold_font());
  wrapped(std::string(drilling_words(row.way)));
  if (chosen) ImGui::PopFont();
  if (!way) {
    wrapped("being computed ...", true);
  } else if (!way->problem.empty()) {
    wrapped(way->problem, true);
  } else {
    chance_bar(way->samples.any_shows);
    wrapped("shows in " + percent_words(way->samples.any_shows.share) + ", pins bind in " +
                percent_words(way->samples.no_fit.share) + "\n95 of 100 within " +
                small_length(way->samples.any_size_95, ui.unit()),
            true);
  }
  ImGui::EndGroup();
}

const WayReport* report_of(const LineUpShown& shown, DrillWay way) {
  for (const auto& answer : {shown.now, shown.whole})
    if (answer)
      for (const WayReport& report : answer->report.ways)
        if (report.way == way) return &report;
  return nullptr;
}

std::string source_tip(const ContributorShare& source, const LineUp& line_up, LengthUnit unit) {
  std::string size;
  for (std::size_t i = 0; i < line_up.contributors.size(); ++i)
    if (line_up.stack.contributors[i].key == source.key)
      size = "\n" + words_of(line_up.contributors[i], unit);
  for (const ErrorRow& row : error_rows())
    if (row.key == source.key)
      return std::string(row.what) + size +
             "\nIts size stands under \"How you drill\".\nBasis: " + std::string(row.basis);
  return source.words + size;
}

/// A bar of its share and the number behind it.
void share_bar(double share) {
  const std::string text = percent_words(share);
  const float number = ImGui::CalcTextSize("100 %").x + scaled(6);
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float width = std::max(scaled(20), ImGui::GetContentRegionAvail().x - number);
  const float line = ImGui::GetTextLineHeight();
  const float top = low.y + line * 0.2F;
  const float bottom = low.y + line * 0.8F;
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled({low.x, top}, {low.x + width, bottom}, palette().grid, scaled(2));
  draw.AddRectFilled({low.x, top}, {low.x + width * static_cast<float>(share), bottom}, palette().handle,
                     scaled(2));
  draw.AddText({low.x + width + scaled(6), low.y}, palette().ink, text.c_str());
  ImGui::Dummy({width + number, line});
}

std::string share_words(const VarianceShare& share) {
  return percent_words(share.alone) + " by itself, " + percent_words(share.total) +
         " with what it does together with others";
}

void shares(const Ui& ui, const LineUpReport& report) {
  const LineUp& line_up = report.ways[report.chosen].line_up;
  wrapped("At " + where_words(ui.design(), measure_place(line_up, report.worst)) + ":", true);
  for (const ContributorShare& source : report.shares) {
    if (source.share.total < kLeastShare) continue;
    ImGui::BeginGroup();
    wrapped(source.words);
    share_bar(source.share.total);
    ImGui::EndGroup();
    places::item("source", source.words, percent_words(source.share.total));
    tooltip((share_words(source.share) + ".\n" + source_tip(source, line_up, ui.unit())).c_str());
  }
}

void changes(const Ui& ui, const LineUpShown& shown) {
  const LineUpReport& report = shown.whole->report;
  const Samples& now = report.ways[report.chosen].samples;
  if (report.what_ifs.empty()) wrapped("No single change that was tried would make it better.");
  for (std::size_t i = 0; i < report.what_ifs.size(); ++i) {
    const WhatIf& change = report.what_ifs[i];
    ImGui::PushID(static_cast<int>(i));
    ImGui::BeginGroup();
    wrapped(change.words);
    wrapped("95 of 100 within " + small_length(change.any_size_95, ui.unit()) + " instead of " +
            small_length(now.any_size_95, ui.unit()));
    chance_bar(change.any_shows, now.any_shows.share);
    wrapped("a step shows in " + percent_words(change.any_shows.share) + " instead of " +
                percent_words(now.any_shows.share) + ", pins bind in " + percent_words(change.no_fit.share) +
                " instead of " + percent_words(now.no_fit.share),
            true);
    ImGui::EndGroup();
    tooltip(("A step would show in " + sure_text(change.any_shows) + ", pins bind in " +
             sure_text(change.no_fit) + ". The mark under the bar is how it is now.")
                .c_str());
    places::item("change", change.words);
    if (button("Make this change", "Changes the project so; undo takes it back.", shown.settled))
      ui.apply(change.words, change.design);
    ImGui::Separator();
    ImGui::PopID();
  }
}

}  // namespace

void line_up_ways(const Ui& ui, const LineUpShown& shown) {
  for (const WayRow& row : way_rows()) {
    const WayReport* way = report_of(shown, row.way);
    const bool chosen = row.way == ui.design().drilling.way;
    if (!card("way", std::string(drilling_words(row.way)), chosen, way_tip(ui, row, way),
              [&] { way_content(ui, row, way, chosen); }) ||
        chosen)
      continue;
    Design next = ui.design();
    next.drilling.way = row.way;
    ui.apply("Drill this way: " + std::string(drilling_words(row.way)), next);
  }
}

void line_up_helps(const Ui& ui, const LineUpShown& shown) {
  const LineUpReport& report = shown.whole->report;
  if (!report.ways[report.chosen].problem.empty()) return;
  if (fold_out("sources", "What makes up the spread",
               "The share of each error in the variance at the worst end, with what it does together with "
               "others, largest first.",
               true)) {
    shares(ui, report);
    ImGui::TreePop();
  }
  if (fold_out("changes", "What one change would do",
               "Each change was made and computed anew; the smallest step comes first, changes with which "
               "pins bind too often last.",
               true)) {
    changes(ui, shown);
    ImGui::TreePop();
  }
}

}  // namespace haftwright::app
