// Findings on the sheet: measured distances, marks to click.
#include <algorithm>
#include <cmath>

#include "fold_canvas.hpp"
#include "haftwright/preview/fold_marks.hpp"
#include "places.hpp"

namespace haftwright::app {
namespace {

constexpr float kMark = 7;  // pixels at scale 1

bool chosen(const Ui& ui, const Finding& finding) {
  return ui.pointer.finding == key_of(finding);
}

ImU32 ink_of(const Ui& ui, const Finding& finding) {
  return chosen(ui, finding) && finding.status == Status::pass ? palette().selected
                                                               : colour_of(finding.status);
}

Role role_of(const Ui& ui, const Finding& finding) {
  if (finding.status == Status::pass) return chosen(ui, finding) ? Role::chosen : Role::finding_pass;
  return finding.status == Status::near ? Role::finding_near : Role::finding_fail;
}

/// "2.10 mm (min 2.50 mm)".
std::string dimension_text(const Ui& ui, const Finding& finding) {
  return amount(finding, finding.value, ui.unit()) +
         (finding.sense == Sense::at_least ? "  (min " : "  (max ") +
         amount(finding, finding.limit, ui.unit()) + ")";
}

struct Box {
  ImVec2 low, high;
  bool meets(const Box& other) const {
    return low.x < other.high.x && other.low.x < high.x && low.y < other.high.y && other.low.y < high.y;
  }
};

/// Finds room for marks and their text, one after the other, clear of those placed before.
class Placer {
 public:
  Placer(const FoldViewState& state, const std::vector<Grip>& grips) : sheet_{state.low, state.high} {
    const float reach = scaled(7);  // what can be dragged stays free
    for (const Grip& grip : grips) {
      const ImVec2 at = state.frame.to_screen(grip.at);
      taken_.push_back({{at.x - reach, at.y - reach}, {at.x + reach, at.y + reach}});
    }
  }

  /// Left middle of a box of this size near `at`; nothing when every place near it is taken.
  std::optional<ImVec2> place(ImVec2 at, ImVec2 size) {
    const float gap = scaled(12);
    for (float ring = 1; ring < 5; ++ring) {
      const float away = gap * ring;
      const ImVec2 candidates[] = {{at.x + away, at.y - away},
                                   {at.x + away, at.y + away},
                                   {at.x - away - size.x, at.y - away},
                                   {at.x - away - size.x, at.y + away},
                                   {at.x - size.x / 2, at.y - away - size.y},
                                   {at.x - size.x / 2, at.y + away + size.y}};
      for (ImVec2 left : candidates) {
        const Box box{{left.x, left.y - size.y / 2}, {left.x + size.x, left.y + size.y / 2}};
        const bool inside = box.low.x >= sheet_.low.x && box.high.x <= sheet_.high.x &&
                            box.low.y >= sheet_.low.y && box.high.y <= sheet_.high.y;
        const bool is_free =
            std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) { return box.meets(other); });
        if (!inside || !is_free) continue;
        taken_.push_back(box);
        return left;
      }
    }
    return std::nullopt;
  }

 private:
  Box sheet_;
  std::vector<Box> taken_;
};

/// The places a finding marks: the middles of what it measured, else where it points.
std::vector<FindingMark> places_of(const FoldCanvas& to, const Finding& finding, std::size_t index) {
  std::vector<FindingMark> marks;
  const Handle& handle = *to.ui.answers()->handle;
  if (finding.to) {
    for (const FoldStretch& stretch :
         shown_stretches(handle, to.state.map.about(), *finding.place, *finding.to)) {
      const ImVec2 a = to.at(stretch.from);
      const ImVec2 b = to.at(stretch.to);
      marks.push_back({.finding = index, .place = {(a.x + b.x) / 2, (a.y + b.y) / 2}, .stretch = stretch});
    }
  }
  if (!marks.empty()) return marks;
  for (const FoldPlace& place : shown_places(handle, *finding.place))
    marks.push_back({.finding = index, .place = to.at(place)});
  return marks;
}

bool on_sheet(const FoldViewState& state, ImVec2 p) {
  return p.x >= state.low.x && p.x <= state.high.x && p.y >= state.low.y && p.y <= state.high.y;
}

void paint_mark(const FoldCanvas& to, const FindingMark& mark, const Finding& finding) {
  const ImU32 colour = ink_of(to.ui, finding);
  const bool picked = chosen(to.ui, finding);
  if (mark.stretch) to.paint(role_of(to.ui, finding), stretch_dimension(to.state.map, *mark.stretch));
  to.draw.AddLine(mark.place, mark.at, with_alpha(colour, 0xC0), scaled(1));
  if (picked) to.draw.AddCircle(mark.place, scaled(14), palette().selected, 0, scaled(2));
  if (!mark.text.empty())
    tag(to.draw, {mark.at.x + scaled(kMark) + scaled(2), mark.at.y}, mark.text, palette().ink,
        picked ? palette().selected : with_alpha(colour, 0xA0));
  status_mark(to.draw, mark.at, scaled(picked ? kMark + 1.5F : kMark), finding.status);
}

}  // namespace

std::vector<FindingMark> finding_marks(const Ui& ui, const FoldViewState& state,
                                       const std::vector<Grip>& grips) {
  std::vector<FindingMark> marks;
  const Answers* answers = ui.answers();
  if (!answers || !answers->laid_out() || state.drawn_revision == 0) return marks;
  const FoldCanvas to{ui, state, *ImGui::GetWindowDrawList()};
  Placer placer(state, grips);
  const auto add = [&](std::size_t index) {
    const Finding& finding = answers->findings[index];
    const bool picked = chosen(ui, finding);
    if (!finding.place || (finding.status == Status::pass && !picked)) return;
    for (FindingMark& mark : places_of(to, finding, index)) {
      if (!on_sheet(state, mark.place)) continue;
      const ImVec2 dot{2 * scaled(kMark) + scaled(2), 2 * scaled(kMark)};
      const std::string text = mark.stretch || picked ? dimension_text(ui, finding) : std::string();
      const ImVec2 tag = text.empty() ? ImVec2{0, 0} : tag_size(text);
      std::optional<ImVec2> room = placer.place(mark.place, {dot.x + tag.x, std::max(dot.y, tag.y)});
      if (room) mark.text = text;
      if (!room) room = placer.place(mark.place, dot);
      mark.at = room ? ImVec2{room->x + scaled(kMark), room->y} : mark.place;
      if (picked) mark.text = text;
      marks.push_back(mark);
    }
  };
  // What was chosen in the list finds its room first.
  for (std::size_t i = 0; i < answers->findings.size(); ++i)
    if (chosen(ui, answers->findings[i])) add(i);
  for (std::size_t i = 0; i < answers->findings.size(); ++i)
    if (!chosen(ui, answers->findings[i])) add(i);
  return marks;
}

bool mark_under_mouse(const Ui& ui, const FoldViewState& state, bool clicked) {
  const Answers* answers = ui.answers();
  if (!answers) return false;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  for (const FindingMark& mark : state.marks) {
    if (mark.finding >= answers->findings.size()) continue;
    const float reach = scaled(kMark) + scaled(2);
    const float width = mark.text.empty() ? 0 : tag_size(mark.text).x;
    if (mouse.x < mark.at.x - reach || mouse.x > mark.at.x + reach + width ||
        std::abs(mouse.y - mark.at.y) > reach)
      continue;
    const Finding& finding = answers->findings[mark.finding];
    const std::string text = where_words(ui.design(), finding.where) + "\n" + dimension_text(ui, finding) +
                             "\n\n" + finding.why + "\n\nBasis: " + finding.basis;
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ImGui::GetFontSize() * 26);
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    if (clicked) {
      ui.pointer = chosen(ui, finding) ? Pointer{} : Pointer{key_of(finding), finding.place, false};
      if (const auto pin = pin_of(finding.where)) ui.select(draggable::pin, Which::left, *pin);
    }
    return true;
  }
  return false;
}

void paint_marks(const FoldCanvas& to) {
  const Answers* answers = to.ui.answers();
  if (!answers || !answers->laid_out() || to.state.drawn_revision == 0) return;
  // The worst come first in the list and are painted last, on top.
  for (auto mark = to.state.marks.rbegin(); mark != to.state.marks.rend(); ++mark) {
    if (mark->finding >= answers->findings.size()) continue;
    const Finding& finding = answers->findings[mark->finding];
    paint_mark(to, *mark, finding);
    places::point("finding", finding.id + ", " + where_words(to.ui.design(), finding.where), mark->at);
  }
}

}  // namespace haftwright::app
