// The whole window in one frame: menus, panes, dialogs, status line.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "file_chooser.hpp"
#include "fold_view.hpp"
#include "panel_line_up.hpp"
#include "panel_offcuts.hpp"
#include "panels.hpp"
#include "scene_pane.hpp"
#include "start_page.hpp"
#include "window.hpp"

namespace haftwright::app {

struct PictureForm {
  bool wanted = false;
  int width = 1600;
  int height = 1000;
  bool transparent = false;
  std::filesystem::path replacing;  ///< there already: asked about before it is written over
};

class Shell {
 public:
  Shell(Window& window, Session& session);
  /// Draws one frame of everything.
  void frame();

 private:
  void apply_settings();
  void keys();
  void menus();
  void file_menu();
  void edit_menu();
  void view_menu();
  void help_menu();
  void text_menu();
  void units_menu();
  void workspace();
  void side_panels(const Ui& ui);
  std::string place_under_mouse(const Document& document) const;
  void status_line();
  void questions();
  void notices();
  void jobs();
  void hint();
  void picture_form();
  void picture_replaces();
  void ask_open();
  void ask_save();
  void ask_export(JobKind kind);
  void ask_bin();
  void ask_cutting_drawing();
  void save_picture();
  void write_picture(const std::filesystem::path& path);
  void change_text_scale(int steps);
  void change_units(LengthUnit unit);
  std::filesystem::path folder() const;
  std::filesystem::path beside(const std::string& suffix) const;

  Window& window_;
  Session& session_;
  Settings shown_settings_;
  bool settings_applied_ = false;
  const Document* shown_document_ = nullptr;
  Selection selection_;
  Pointer pointer_;
  FoldViewState fold_;
  ScenePaneState scene_;
  FileChooser chooser_;
  StartPage start_page_;
  PictureForm picture_;
  GuidePane guide_;
  LineUpPane line_up_;
  OffcutsPane offcuts_;
  bool offcuts_shown_ = false;
  std::size_t panel_ = 0;
  Which panel_side_ = Which::left;
  float split_ = 0.5F;     ///< share of the middle that the fold view takes
  ImVec2 fold_low_{0, 0};  ///< of the fold view on the screen
  ImVec2 fold_high_{0, 0};
  bool show_hint_ = false;
  std::string title_;
};

}  // namespace haftwright::app
