// The menu bar, and asking for file names.
#include <imgui.h>

#include "haftwright/files/safe_write.hpp"
#include "shell.hpp"

namespace haftwright::app {

void Shell::menus() {
  if (!ImGui::BeginMenuBar()) return;
  if (ImGui::BeginMenu("File")) {
    file_menu();
    ImGui::EndMenu();
  }
  if (ImGui::BeginMenu("Edit", session_.document() != nullptr)) {
    edit_menu();
    ImGui::EndMenu();
  }
  if (ImGui::BeginMenu("View")) {
    view_menu();
    ImGui::EndMenu();
  }
  if (ImGui::BeginMenu("Help")) {
    if (ImGui::MenuItem("Three things to try")) show_hint_ = true;
    ImGui::Separator();
    ImGui::TextDisabled("Haftwright " HAFTWRIGHT_VERSION);
    ImGui::EndMenu();
  }
  ImGui::EndMenuBar();
}

void Shell::file_menu() {
  const bool open = session_.document() != nullptr;
  if (ImGui::MenuItem("New ...", "Ctrl+N")) session_.request_close();
  if (ImGui::MenuItem("Open ...", "Ctrl+O")) ask_open();
  if (ImGui::BeginMenu("Open recent", !session_.settings().recent.empty())) {
    const std::vector<std::filesystem::path> recent = session_.settings().recent;
    for (const std::filesystem::path& path : recent)
      if (ImGui::MenuItem(path.string().c_str())) session_.request_open(path);
    ImGui::EndMenu();
  }
  ImGui::Separator();
  if (ImGui::MenuItem("Save", "Ctrl+S", false, open)) session_.save();
  if (ImGui::MenuItem("Save as ...", "Ctrl+Shift+S", false, open)) ask_save();
  if (ImGui::MenuItem("Back to the saved file", nullptr, false,
                      open && session_.unsaved() && !session_.path().empty()))
    session_.request_open(session_.path());
  ImGui::Separator();
  if (ImGui::MenuItem("Export drill guide (STEP) ...", nullptr, false, open)) ask_export(JobKind::guide_step);
  if (ImGui::MenuItem("Export finished handle (STEP) ...", nullptr, false, open))
    ask_export(JobKind::handle_step);
  if (ImGui::MenuItem("Save a picture (PNG) ...", nullptr, false, open)) picture_.wanted = true;
  ImGui::Separator();
  if (ImGui::MenuItem("Quit", "Ctrl+Q")) session_.request_quit();
}

void Shell::edit_menu() {
  Document& document = *session_.document();
  const History& history = document.history();
  if (ImGui::MenuItem(("Undo: " + history.undo_label()).c_str(), "Ctrl+Z", false, history.can_undo()))
    document.undo();
  if (ImGui::MenuItem(("Redo: " + history.redo_label()).c_str(), "Ctrl+Y", false, history.can_redo()))
    document.redo();
  if (ImGui::BeginMenu("Steps", history.size() > 1)) {
    for (std::size_t i = history.size(); i-- > 0;) {
      ImGui::PushID(static_cast<int>(i));
      const std::string& label = history.label(i);
      if (ImGui::MenuItem(label.empty() ? "as it was opened" : label.c_str(), nullptr, i == history.cursor()))
        document.go_to(i);
      ImGui::PopID();
    }
    ImGui::EndMenu();
  }
  ImGui::Separator();
  const Design& design = document.design();
  if (ImGui::MenuItem("Link both sides", nullptr, false, !all_linked(design)))
    document.apply("Link both sides", link_all(design));
  if (ImGui::MenuItem("Let the right side go its own way", nullptr, false, all_linked(design)))
    document.apply("Unlink the right side", unlink_all(design));
  if (ImGui::MenuItem("Copy left to right"))
    document.apply("Copy left to right", copy_side(design, Which::left));
  if (ImGui::MenuItem("Copy right to left"))
    document.apply("Copy right to left", copy_side(design, Which::right));
  if (ImGui::MenuItem("Swap the sides")) document.apply("Swap the sides", swap_sides(design));
}

void Shell::view_menu() {
  Settings settings = session_.settings();
  if (ImGui::MenuItem("Light", nullptr, settings.theme == Theme::light)) settings.theme = Theme::light;
  if (ImGui::MenuItem("Dark", nullptr, settings.theme == Theme::dark)) settings.theme = Theme::dark;
  ImGui::Separator();
  for (double scale : {0.85, 1.0, 1.25, 1.5, 2.0}) {
    const std::string label = "Text at " + format_number(scale * 100, 0) + " %";
    if (ImGui::MenuItem(label.c_str(), nullptr, settings.text_scale == scale)) settings.text_scale = scale;
  }
  ImGui::Separator();
  if (Document* document = session_.document()) {
    const char* names[] = {"Millimetres", "Decimal inches", "Fractions of an inch"};
    for (LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch, LengthUnit::inch_fraction}) {
      if (!ImGui::MenuItem(names[static_cast<std::size_t>(unit)], nullptr,
                           document->design().shown_unit == unit))
        continue;
      Design design = document->design();
      design.shown_unit = unit;
      document->apply("Show other units", design);
      settings.unit = unit;
    }
    ImGui::Separator();
    if (ImGui::MenuItem("Fit both views", "F")) fold_.fit = scene_.fit = true;
  }
  if (settings != session_.settings()) session_.change_settings(settings);
}

std::filesystem::path Shell::folder() const {
  if (!session_.path().empty()) return session_.path().parent_path();
  const auto& recent = session_.settings().recent;
  return recent.empty() ? std::filesystem::path() : recent.front().parent_path();
}

std::filesystem::path Shell::beside(const std::string& suffix) const {
  std::string stem = session_.path().empty() ? session_.title() : session_.path().stem().string();
  return folder() / (stem + suffix);
}

void Shell::ask_open() {
  chooser_.ask({"Open a project", "Open", ".json", true, folder(),
                [this](const std::filesystem::path& path) { session_.request_open(path); }});
}

void Shell::ask_save() {
  chooser_.ask({"Save the project as", "Save", ".json", false,
                session_.path().empty() ? beside(".json") : session_.path(),
                [this](const std::filesystem::path& path) { session_.save_as(path); },
                [this] { session_.give_up_path(); }});
}

void Shell::ask_export(JobKind kind) {
  const bool guide = kind == JobKind::guide_step;
  chooser_.ask({guide ? "Export the drill guide" : "Export the finished handle", "Export", ".step", false,
                beside(guide ? "-drill-guide.step" : "-handle.step"),
                [this, kind](const std::filesystem::path& path) { session_.export_step(kind, path); }});
}

void Shell::save_picture() {
  chooser_.ask({"Save the picture as", "Save", ".png", false, beside(".png"),
                [this](const std::filesystem::path& path) {
                  Document& document = *session_.document();
                  const Ui ui{session_, document, selection_, pointer_};
                  if (!document.answers() || !document.answers()->laid_out()) return;
                  try {
                    const Picture picture =
                        scene_picture(ui, scene_, {picture_.width, picture_.height}, picture_.transparent);
                    write_file_safely(path, png_bytes(picture));
                    session_.tell({Notice::Kind::done, "Picture saved", {path.string()}});
                  } catch (const std::exception& error) {
                    session_.tell({Notice::Kind::error, "The picture could not be saved", {error.what()}});
                  }
                }});
}

}  // namespace haftwright::app
