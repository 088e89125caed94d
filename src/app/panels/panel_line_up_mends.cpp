// What the dry fit has found, and what can be done, each option with its amounts.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "panel_line_up.hpp"
#include "places.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

std::string measured_text(const Measured& measured, LengthUnit unit) {
  return small_length(measured.value, unit) + " ± " + small_length(measured.within, unit);
}

std::string turn_text(const Measured& measured) {
  return format_number(measured.value, 2) + "° ± " + format_number(measured.within, 2) + "°";
}

void found_line(const FoundLine& line, const Design& design, LengthUnit unit) {
  const bool strips =
      line.joint < design.left.joints.size() && !design.left.joints[line.joint].spacers.empty();
  std::string text = "Joint " + std::to_string(line.joint + 1);
  if (strips) text += line.strip_edge == StripEdge::front ? ", front line" : ", rear line";
  wrapped(text);
  text = "";
  if (line.spine_mm) text += "at the spine " + measured_text(*line.spine_mm, unit);
  if (line.belly_mm)
    text += (text.empty() ? "" : ", ") + ("at the belly " + measured_text(*line.belly_mm, unit));
  if (line.turn_deg) text += ", turned " + turn_text(*line.turn_deg);
  wrapped(text, true);
}

/// How the right scale lies against the left one.
void motion(const DryFit& fit, LengthUnit unit) {
  std::string text = "As if the right scale sat " + small_length(std::abs(fit.shift_mm.value), unit) +
                     " (± " + small_length(fit.shift_mm.within, unit) + ") too far toward the " +
                     (fit.shift_mm.value > 0 ? "butt" : "front");
  text += fit.turn_deg.within > 0 ? ", turned by " + turn_text(fit.turn_deg) : "; its turn is not known";
  if (fit.across_mm)
    text += ", and " + small_length(std::abs(fit.across_mm->value), unit) + " (± " +
            small_length(fit.across_mm->within, unit) + ") toward the " +
            (fit.across_mm->value > 0 ? "spine" : "belly");
  wrapped(text + ".");
  wrapped(
      "The largest step found is " + small_length(fit.worst_mm, unit) +
          "; no motion of the scale explains up to " + small_length(fit.rest_mm, unit) +
          ": the blanks differ there, or the readings are off. Where blanks differ, or the scale lies off "
          "across, it may itself lie elsewhere.",
      true);
}

void bullet(const std::string& text, bool faint = false) {
  ImGui::Bullet();
  ImGui::BeginGroup();
  wrapped(text, faint);
  ImGui::EndGroup();
}

/// Pushing and accepting leave the project's parts as they are.
bool changes_parts(const Mend& mend) {
  return !mend.openings.empty() || !mend.facings.empty() || !mend.strips.empty();
}

void mend_card(const Ui& ui, const Mend& mend, bool settled) {
  status_mark(mend.hides ? Status::pass : Status::near);
  ImGui::SameLine();
  ImGui::BeginGroup();
  wrapped(mend.words);
  wrapped("Leaves " + small_length(mend.verified_mm, ui.unit()) + " at most, laid out again with it done, " +
              mend.outcome + ".",
          true);
  for (const std::string& caution : mend.cautions) bullet(caution);
  if (changes_parts(mend) && button("Put it into the project",
                                    "The joints go where you found them, with this correction done; the "
                                    "readings are done with and go. Undo "
                                    "takes it back.",
                                    settled))
    ui.apply("Correction: " + mend.words.substr(0, mend.words.find_first_of(".,:;")), mend.mended);
  ImGui::EndGroup();
  places::item("mend", mend.words, mend.hides ? "hides" : "shows");
  ImGui::Separator();
}

}  // namespace

void dry_fit_answer(const Ui& ui, const LineUpShown& shown) {
  if (ui.design().dry_fit.empty()) return;
  heading("What was found");
  tooltip(
      "Left less right along the handle, where the lines meet the tang; within the ± in 95 of 100 cases.");
  if (!shown.whole || !shown.whole->dry_fit) {
    wrapped(shown.settled ? "No line was read on both sides from one place yet." : "computing ...", true);
    return;
  }
  const DryFit& fit = *shown.whole->dry_fit;
  for (const FoundLine& line : fit.lines) found_line(line, *shown.whole->design, ui.unit());
  motion(fit, ui.unit());
  for (const std::string& taken : fit.taken) wrapped(taken, true);
  if (!fit.decide.empty()) wrapped(fit.decide);
  if (!fit.problem.empty()) {
    wrapped(fit.problem);
    return;
  }
  status_mark(fit.clearance_is_enough ? Status::pass : Status::near);
  ImGui::SameLine();
  wrapped(clearance_words(fit));
  heading("What can be done, best first");
  for (std::size_t i = 0; i < fit.mends.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    mend_card(ui, fit.mends[i], shown.settled);
    ImGui::PopID();
  }
}

}  // namespace haftwright::app
