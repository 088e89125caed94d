// The menu bar, and asking for file names.
#include <imgui.h>

#include <algorithm>
#include <iterator>

#include "haftwright/files/safe_write.hpp"
#include "haftwright/session/samples.hpp"
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
    help_menu();
    ImGui::EndMenu();
  }
  ImGui::EndMenuBar();
}

void Shell::file_menu() {
  const bool open = session_.document() != nullptr;
  if (menu_item("New ...", "Ctrl+N", "Back to the start page, to begin with a tang of your own."))
    session_.request_close();
  if (menu_item(
          "Open ...", "Ctrl+O",
          "A project file. One may also be dropped on the window, and so may a tang drawn as DXF or SVG."))
    ask_open();
  if (ImGui::BeginMenu("Open recent", !session_.settings().recent.empty())) {
    const std::vector<std::filesystem::path> recent = session_.settings().recent;
    for (const std::filesystem::path& path : recent)
      if (menu_item(path.string().c_str(), nullptr, path.string().c_str())) session_.request_open(path);
    ImGui::EndMenu();
  }
  ImGui::Separator();
  if (menu_item("Save", "Ctrl+S", "Writes the project's file.", open)) session_.save();
  if (menu_item("Save as ...", "Ctrl+Shift+S", "Writes it under another name.", open)) ask_save();
  if (menu_item("Back to the saved file", nullptr, "Drops what was changed since; undo brings it back.",
                open && session_.unsaved() && !session_.path().empty()))
    session_.request_open(session_.path());
  ImGui::Separator();
  if (menu_item("Export drill guide (STEP) ...", "Ctrl+E", "The guide as a solid.", open))
    ask_export(JobKind::guide_step);
  if (menu_item("Export finished handle (STEP) ...", "Ctrl+Shift+E",
                "Every part as a solid, named and coloured.", open))
    ask_export(JobKind::handle_step);
  if (menu_item("Save a picture (PNG) ...", "Ctrl+P", "What the 3D view shows, at any size.", open))
    picture_.wanted = true;
  ImGui::Separator();
  if (menu_item("Quit", "Ctrl+Q", "Unsaved work is asked about first.")) session_.request_quit();
}

void Shell::edit_menu() {
  Document& document = *session_.document();
  const History& history = document.history();
  const auto named = [](const char* what, const std::string& step) {
    return step.empty() ? std::string(what) : std::string(what) + ": " + step;
  };
  if (menu_item((named("Undo", history.undo_label()) + "##undo").c_str(), "Ctrl+Z",
                "Takes the last step back.", history.can_undo()))
    document.undo();
  if (menu_item((named("Redo", history.redo_label()) + "##redo").c_str(), "Ctrl+Y",
                "Makes the step again that was taken back.", history.can_redo()))
    document.redo();
  if (ImGui::BeginMenu("Steps", history.size() > 1)) {
    for (std::size_t i = history.size(); i-- > 0;) {
      ImGui::PushID(static_cast<int>(i));
      const std::string& label = history.label(i);
      if (menu_item(label.empty() ? "as it was opened" : label.c_str(), nullptr,
                    "Back, or forward, to this step.", true, i == history.cursor()))
        document.go_to(i);
      ImGui::PopID();
    }
    ImGui::EndMenu();
  }
  ImGui::Separator();
  const Design& design = document.design();
  if (menu_item("Link both sides", nullptr, "The right side mirrors the left in everything.",
                !all_linked(design)))
    document.apply("Link both sides", link_all(design));
  if (menu_item("Let the right side go its own way", nullptr, "It gets values of its own, the same as now.",
                all_linked(design)))
    document.apply("Unlink the right side", unlink_all(design));
  if (menu_item("Copy left to right", nullptr, "The right side becomes what the left is."))
    document.apply("Copy left to right", copy_side(design, Which::left));
  if (menu_item("Copy right to left", nullptr, "The left side becomes what the right is."))
    document.apply("Copy right to left", copy_side(design, Which::right));
  if (menu_item("Swap the sides", nullptr, "Left becomes right and right becomes left."))
    document.apply("Swap the sides", swap_sides(design));
}

void Shell::view_menu() {
  Settings settings = session_.settings();
  if (menu_item("Light", nullptr, "Dark writing on a light ground.", true, settings.theme == Theme::light))
    settings.theme = Theme::light;
  if (menu_item("Dark", nullptr, "Light writing on a dark ground.", true, settings.theme == Theme::dark))
    settings.theme = Theme::dark;
  if (settings != session_.settings()) session_.change_settings(settings);
  ImGui::Separator();
  text_menu();
  ImGui::Separator();
  units_menu();
  if (!session_.document()) return;
  ImGui::Separator();
  if (menu_item("Fit both views", "F", "The whole handle in sight. F alone fits the view under the mouse."))
    fold_.fit = scene_.box.fit = true;
  fold_menu(fold_);
  scene_menu(scene_);
}

void Shell::help_menu() {
  if (menu_item("Three things to try", nullptr, "The hint of the first day.", session_.document() != nullptr))
    show_hint_ = true;
  ImGui::Separator();
  ImGui::TextDisabled("Haftwright " HAFTWRIGHT_VERSION);
}

namespace {

constexpr double kTextScales[] = {0.85, 1.0, 1.25, 1.5, 2.0};

}  // namespace

void Shell::text_menu() {
  Settings settings = session_.settings();
  for (double scale : kTextScales) {
    const std::string label = "Text at " + format_number(scale * 100, 0) + " %";
    if (menu_item(label.c_str(), nullptr, "Size of all writing and buttons. Ctrl+= larger, Ctrl+- smaller.",
                  true, settings.text_scale == scale))
      settings.text_scale = scale;
  }
  if (settings != session_.settings()) session_.change_settings(settings);
}

void Shell::change_text_scale(int steps) {
  Settings settings = session_.settings();
  const auto* const end = std::end(kTextScales);
  const auto* at = std::lower_bound(std::begin(kTextScales), end, settings.text_scale - 1e-9);
  const auto next =
      std::clamp<std::ptrdiff_t>(at - std::begin(kTextScales) + steps, 0, std::ssize(kTextScales) - 1);
  settings.text_scale = kTextScales[next];
  if (settings != session_.settings()) session_.change_settings(settings);
}

void Shell::units_menu() {
  constexpr const char* kNames[] = {"Millimetres", "Decimal inches", "Fractions of an inch"};
  const Document* document = session_.document();
  const LengthUnit now = document ? document->design().shown_unit : session_.settings().unit;
  for (LengthUnit unit : {LengthUnit::millimetre, LengthUnit::inch, LengthUnit::inch_fraction})
    if (menu_item(kNames[static_cast<std::size_t>(unit)], nullptr,
                  "How lengths are shown. Any of them may be typed at any time.", true, now == unit))
      change_units(unit);
}

/// Of the project that is open, and of the next new one.
void Shell::change_units(LengthUnit unit) {
  if (Document* document = session_.document()) {
    Design design = document->design();
    design.shown_unit = unit;
    document->apply("Show other units", design);
  }
  Settings settings = session_.settings();
  settings.unit = unit;
  if (settings != session_.settings()) session_.change_settings(settings);
}

std::filesystem::path Shell::folder() const {
  if (!session_.path().empty()) return session_.path().parent_path();
  for (const std::filesystem::path& path : session_.settings().recent)
    if (!is_sample(path)) return path.parent_path();
  return {};
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

void Shell::ask_bin() {
  chooser_.ask({"Open a bin of offcuts", "Open", ".json", true, session_.bin().path(),
                [this](const std::filesystem::path& path) { session_.open_bin(path); }});
}

void Shell::ask_cutting_drawing() {
  chooser_.ask({"Save the cutting drawing as", "Save", ".svg", false, beside("-cutting.svg"),
                [this](const std::filesystem::path& path) {
                  if (const auto answer = session_.cutting().answer())
                    session_.export_cutting(*answer, session_.chosen_plan(), path);
                }});
}

void Shell::save_picture() {
  chooser_.ask({"Save the picture as", "Save", ".png", false, beside(".png"),
                [this](const std::filesystem::path& path) {
                  std::error_code error;
                  if (std::filesystem::exists(path, error))
                    picture_.replacing = path;
                  else
                    write_picture(path);
                }});
}

void Shell::write_picture(const std::filesystem::path& path) {
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
}

}  // namespace haftwright::app
