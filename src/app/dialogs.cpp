// Questions, notices, running jobs, the picture's size, the first-run hint.
#include <imgui.h>

#include <algorithm>

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
  return ImGui::BeginPopupModal(title, nullptr,
                                ImGuiWindowFlags_AlwaysAutoResize | ImGuiWindowFlags_NoSavedSettings);
}

/// A dialog grows with its text, so its paragraphs need a width of their own.
void paragraph(const std::string& text) {
  wrapped(text, false, scaled(480));
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
    if (ImGui::Button(label_of(question.choices[i]))) chosen = question.choices[i];
    places::item("answer", label_of(question.choices[i]));
  }
  if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)) && !question.choices.empty())
    chosen = question.choices.back();
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
  const bool done = ImGui::Button("Good", {scaled(110), 0}) ||
                    ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape)) ||
                    ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter));
  places::item("answer", "Good");
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
    if (ImGui::Button("Stop")) session_.jobs().cancel(job.kind);
    ImGui::PopID();
  }
  ImGui::End();
}

void Shell::picture_form() {
  if (!picture_.wanted) return;
  if (!begin_dialog("Save a picture")) return;
  paragraph("The handle as the 3D view shows it now, drawn afresh at this size.");
  if (begin_fields("size")) {
    const FieldRange pixels{16, 8192, 100};
    if (const auto width = number_field("Width", "in pixels", picture_.width, 0, pixels))
      picture_.width = static_cast<int>(*width);
    if (const auto height = number_field("Height", "in pixels", picture_.height, 0, pixels))
      picture_.height = static_cast<int>(*height);
    if (const auto clear = switch_field("No background", "a transparent picture", picture_.transparent))
      picture_.transparent = *clear;
    end_fields();
  }
  const bool go = ImGui::Button("Choose a file ...");
  ImGui::SameLine();
  const bool leave = ImGui::Button("Cancel") || ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
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
  const char* const lines[] = {
      "Drag: a pin's cross, a joint's round, the diamond at a joint line's end to slant it, the squares on "
      "the edge strip to change the thickness. Escape lets go.",
      "Turn the wheel to zoom; drag with the right button to shift the view. In the 3D view the left "
      "button turns the handle.",
      "Click a finding on the right: both views show the place, and it tells why it matters."};
  for (const char* line : lines) {
    ImGui::Bullet();
    ImGui::SameLine();
    paragraph(line);
  }
  paragraph("Ctrl+Z takes back anything. Lengths may be typed as 1/8 in, 0.125\" or 3.2 mm.");
  ImGui::Spacing();
  if (ImGui::Button("Got it", {scaled(110), 0}) || ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) {
    show_hint_ = false;
    Settings settings = session_.settings();
    settings.hint_seen = true;
    session_.change_settings(settings);
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

}  // namespace haftwright::app
