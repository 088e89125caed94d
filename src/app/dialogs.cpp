// Questions, notices, running jobs, the picture's size, the first-run hint.
#include <imgui.h>

#include <algorithm>
#include <cfloat>

#include "places.hpp"
#include "shell.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

void in_the_middle() {
  const ImVec2 screen = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({screen.x / 2, screen.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
}

bool begin_dialog(const char* title) {
  if (!ImGui::IsPopupOpen(title)) ImGui::OpenPopup(title);
  in_the_middle();
  const float title_width =
      ImGui::CalcTextSize(title, nullptr, true).x + 4 * ImGui::GetStyle().FramePadding.x;
  ImGui::SetNextWindowSizeConstraints({title_width, 0}, {FLT_MAX, FLT_MAX});
  return ImGui::BeginPopupModal(title, nullptr,
                                ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings);
}

const char* tip_of(Choice choice) {
  switch (choice) {
    case Choice::save:
      return "Writes the project's file, then goes on.";
    case Choice::save_elsewhere:
      return "Writes a file of another name and leaves the old one as it is.";
    case Choice::overwrite:
      return "What stands in the file now is gone.";
    case Choice::discard:
      return "Goes on without; what was changed is gone.";
    case Choice::reload:
      return "Shows what stands in the file now; undo brings your work back.";
    case Choice::keep:
      return "Goes on with what is open here.";
    case Choice::take_up:
      return "Opens it, still unsaved; the file stays as it is until you save.";
    case Choice::later:
      return "Opens the file as it was saved; the start page goes on offering the other (Escape).";
    case Choice::cancel:
      return "Back, as if nothing had been asked (Escape).";
  }
  return "";
}

bool escape_pressed() {
  return ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
}

/// A dialog grows with its text, so its paragraphs need a width of their own.
void paragraph(const std::string& text) {
  wrapped(text, false, scaled(480));
}

// Signs of the three gestures, drawn in a square of the given half side.
void draw_drag_sign(ImDrawList& draw, ImVec2 c, float r) {
  const ImU32 ink = palette().handle;
  draw.AddCircleFilled({c.x - r * 0.45F, c.y}, r * 0.32F, ink);
  draw.AddLine({c.x - r * 0.05F, c.y}, {c.x + r * 0.7F, c.y}, ink, r * 0.14F);
  draw.AddTriangleFilled({c.x + r, c.y}, {c.x + r * 0.55F, c.y - r * 0.3F}, {c.x + r * 0.55F, c.y + r * 0.3F},
                         ink);
}

void draw_wheel_sign(ImDrawList& draw, ImVec2 c, float r) {
  const ImU32 ink = palette().handle;
  draw.AddRect({c.x - r * 0.5F, c.y - r * 0.85F}, {c.x + r * 0.5F, c.y + r * 0.85F}, ink, r * 0.45F, 0,
               r * 0.14F);
  draw.AddLine({c.x, c.y - r * 0.55F}, {c.x, c.y - r * 0.1F}, ink, r * 0.22F);
}

void draw_finding_sign(ImDrawList& draw, ImVec2 c, float r) {
  status_mark(draw, {c.x - r * 0.4F, c.y}, r * 0.42F, Status::fail);
  draw.AddCircle({c.x + r * 0.55F, c.y}, r * 0.4F, palette().selected, 0, r * 0.14F);
}

void gesture(void (*sign)(ImDrawList&, ImVec2, float), const char* name, const char* text) {
  const float side = scaled(44);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  sign(*ImGui::GetWindowDrawList(), {at.x + side / 2, at.y + side / 2}, side * 0.42F);
  ImGui::Dummy({side, side});
  ImGui::SameLine(0, scaled(12));
  ImGui::BeginGroup();
  ImGui::PushFont(bold_font());
  ImGui::TextUnformatted(name);
  ImGui::PopFont();
  wrapped(text, false, scaled(430));
  ImGui::EndGroup();
  ImGui::Spacing();
}

}  // namespace

void Shell::questions() {
  if (!session_.question() || chooser_.open()) return;
  const Question question = *session_.question();
  if (!begin_dialog("One question")) return;
  paragraph(question.text);
  ImGui::Spacing();
  std::optional<Choice> chosen;
  for (std::size_t i = 0; i < question.choices.size(); ++i) {
    if (i) ImGui::SameLine();
    if (answer(label_of(question.choices[i]), tip_of(question.choices[i]))) chosen = question.choices[i];
  }
  if (escape_pressed() && !question.choices.empty()) chosen = question.choices.back();
  if (chosen) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
  if (chosen) session_.answer(*chosen);
}

void Shell::notices() {
  if (session_.notices().empty() || session_.question() || chooser_.open()) return;
  const Notice notice = session_.notices().front();
  if (!begin_dialog((notice.title + "###notice").c_str())) return;
  for (const std::string& line : notice.lines) paragraph(line);
  ImGui::Spacing();
  const bool done = answer("Close", "Closes this (Enter or Escape).", scaled(110)) || escape_pressed() ||
                    ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter));
  if (done) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
  if (done) session_.dismiss_notice();
}

void Shell::jobs() {
  const std::vector<JobProgress> running = session_.jobs().progress();
  if (running.empty()) return;
  const ImVec2 screen = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos({screen.x / 2, screen.y - scaled(60)}, ImGuiCond_Always, {0.5F, 1});
  ImGui::Begin("working", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_AlwaysAutoResize |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoMove);
  for (const JobProgress& job : running) {
    ImGui::PushID(static_cast<int>(job.kind));
    ImGui::Text("%s: %s", name_of(job.kind), job.running ? job.step.c_str() : "waits");
    ImGui::ProgressBar(static_cast<float>(job.share), {scaled(320), 0});
    ImGui::SameLine();
    if (button("Stop", "Gives up; no file is touched.")) session_.jobs().cancel(job.kind);
    ImGui::PopID();
  }
  ImGui::End();
}

void Shell::picture_replaces() {
  if (picture_.replacing.empty() || !begin_dialog("Replace the picture")) return;
  paragraph(picture_.replacing.filename().string() + " is there already. Replace it?");
  ImGui::Spacing();
  const bool replace = answer(label_of(Choice::overwrite), tip_of(Choice::overwrite));
  ImGui::SameLine();
  const bool leave = answer(label_of(Choice::cancel), tip_of(Choice::cancel)) || escape_pressed();
  if (replace || leave) ImGui::CloseCurrentPopup();
  ImGui::EndPopup();
  if (replace) write_picture(picture_.replacing);
  if (replace || leave) picture_.replacing.clear();
}

void Shell::picture_form() {
  picture_replaces();
  if (!picture_.wanted) return;
  if (!begin_dialog("Save a picture")) return;
  paragraph("The handle as the 3D view shows it now, drawn afresh at this size.");
  begin_fields("size", scaled(480));
  const FieldRange pixels{16, 8192, 100};
  if (const auto width =
          number_field("Width", "of the picture, in pixels: 16 to 8192", picture_.width, 0, pixels))
    picture_.width = static_cast<int>(*width);
  if (const auto height =
          number_field("Height", "of the picture, in pixels: 16 to 8192", picture_.height, 0, pixels))
    picture_.height = static_cast<int>(*height);
  if (const auto clear = switch_field(
          "No background", "transparent all round the handle, with its soft shadow", picture_.transparent))
    picture_.transparent = *clear;
  end_fields();
  ImGui::Spacing();
  const bool go = answer("Choose a file ...", "Then the picture is drawn and written there.");
  ImGui::SameLine();
  const bool leave = answer("Cancel", "No picture (Escape).") || escape_pressed();
  if (go || leave) {
    picture_.wanted = false;
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
  if (go) save_picture();
}

void Shell::hint() {
  if (!show_hint_ || !session_.document() || session_.question() || !session_.notices().empty()) return;
  if (!begin_dialog("Three things to try")) return;
  gesture(draw_drag_sign, "Drag",
          "A pin's cross, a joint's round, the diamond at a joint line's end to slant it, the squares on the "
          "edge "
          "strip to change the thickness. Escape lets go.");
  gesture(
      draw_wheel_sign, "Look",
      "Turn the wheel to zoom, drag with the right button to shift. In the 3D view the left button turns the "
      "handle, and a click picks a pin or a strip.");
  gesture(draw_finding_sign, "Ask",
          "Click a finding on the right: both views show the place, and it tells why it matters.");
  paragraph("Ctrl+Z takes back anything. Lengths may be typed as 1/8 in, 0.125\" or 3.2 mm.");
  ImGui::Spacing();
  const bool done = answer("Got it", "It stays in the Help menu.", scaled(110)) || escape_pressed();
  if (done) {
    show_hint_ = false;
    Settings settings = session_.settings();
    settings.hint_seen = true;
    session_.change_settings(settings);
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

}  // namespace haftwright::app
