#include "file_chooser.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cstdlib>

#include "places.hpp"
#include "widgets.hpp"

namespace haftwright::app {
namespace {

namespace fs = std::filesystem;

fs::path home() {
  const char* value = std::getenv("HOME");
  return value && *value ? fs::path(value) : fs::path("/");
}

}  // namespace

void FileChooser::ask(Request request) {
  request_ = std::move(request);
  open_ = fresh_ = true;
  std::error_code ignored;
  const fs::path start = fs::absolute(request_.start.empty() ? home() : request_.start, ignored);
  const bool folder = fs::is_directory(start, ignored);
  name_ = folder ? "" : start.filename().string();
  go_to(folder ? start : start.parent_path());
}

void FileChooser::go_to(const fs::path& folder) {
  std::error_code trouble;
  const fs::path real = fs::weakly_canonical(folder, trouble);
  folder_ = trouble || real.empty() ? home() : real;
  list();
}

void FileChooser::list() {
  entries_.clear();
  trouble_.clear();
  std::error_code error;
  for (fs::directory_iterator at(folder_, error), end; !error && at != end; at.increment(error)) {
    std::error_code ignored;
    const std::string name = at->path().filename().string();
    const bool folder = at->is_directory(ignored);
    if (name.empty() || name[0] == '.' || (!folder && at->path().extension() != request_.ending)) continue;
    entries_.push_back({name, folder});
  }
  if (error) trouble_ = "This folder can't be read: " + error.message();
  std::sort(entries_.begin(), entries_.end(),
            [](const Entry& a, const Entry& b) { return a.folder != b.folder ? a.folder : a.name < b.name; });
}

void FileChooser::finish(bool take) {
  if (take) {
    fs::path path = name_;
    if (path.is_relative()) path = folder_ / path;
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) {
      name_.clear();
      go_to(path);
      return;
    }
    if (path.extension() != request_.ending) path += request_.ending;
    if (request_.must_exist && !fs::exists(path, ignored)) {
      trouble_ = "There is no file " + path.filename().string() + " here.";
      return;
    }
    if (!request_.must_exist && !fs::is_directory(path.parent_path(), ignored)) {
      trouble_ = "There is no folder " + path.parent_path().string() + ".";
      return;
    }
    name_ = path.string();
  }
  open_ = false;
  ImGui::CloseCurrentPopup();
  const Request request = std::move(request_);
  if (take)
    request.chosen(name_);
  else
    request.given_up();
}

void FileChooser::draw() {
  if (!open_) return;
  const std::string title = request_.title;
  if (!ImGui::IsPopupOpen(title.c_str())) ImGui::OpenPopup(title.c_str());
  const float unit = ImGui::GetFontSize();
  const ImVec2 screen = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowSize({std::min(unit * 42, screen.x * 0.9F), std::min(unit * 32, screen.y * 0.9F)});
  if (!ImGui::BeginPopupModal(title.c_str(), nullptr,
                              ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoResize))
    return;
  if (button("Up", "To the folder that holds this one.")) go_to(folder_.parent_path());
  ImGui::SameLine();
  if (button("Home", "To your own folder.")) go_to(home());
  ImGui::SameLine();
  ImGui::BeginGroup();
  ImGui::AlignTextToFramePadding();
  wrapped(folder_.string());
  ImGui::EndGroup();
  ImGui::BeginChild("files", {0, -ImGui::GetFrameHeightWithSpacing() * (trouble_.empty() ? 2.2F : 3.2F)},
                    true);
  for (const Entry& entry : entries_) {
    const std::string label = entry.folder ? entry.name + "/" : entry.name;
    if (!ImGui::Selectable(label.c_str(), entry.name == name_,
                           ImGuiSelectableFlags_AllowDoubleClick | ImGuiSelectableFlags_DontClosePopups))
      continue;
    if (entry.folder) {
      // A name typed for saving survives a walk through the folders.
      if (request_.must_exist) name_.clear();
      go_to(folder_ / entry.name);
      break;
    }
    name_ = entry.name;
    if (ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
      finish(true);
      break;
    }
  }
  if (entries_.empty()) ImGui::TextDisabled("No folders and no %s files here", request_.ending.c_str());
  ImGui::EndChild();
  if (!open_) {
    ImGui::EndPopup();
    return;
  }
  if (fresh_) ImGui::SetKeyboardFocusHere();
  fresh_ = false;
  ImGui::SetNextItemWidth(-1);
  const bool entered =
      ImGui::InputTextWithHint("##name", "file name", &name_, ImGuiInputTextFlags_EnterReturnsTrue);
  places::item("field", "file name", name_);
  if (!trouble_.empty()) ImGui::TextWrapped("%s", trouble_.c_str());
  if (answer(request_.action.c_str(), "The file named above (Enter).") || (entered && !name_.empty()))
    if (!name_.empty()) finish(true);
  ImGui::SameLine();
  if (open_ &&
      (answer("Cancel", "No file (Escape).") || ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))))
    finish(false);
  ImGui::EndPopup();
}

}  // namespace haftwright::app
