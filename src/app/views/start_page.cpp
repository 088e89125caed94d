#include "start_page.hpp"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <stdexcept>

#include "drawing_box.hpp"
#include "haftwright/preview/starter_drawing.hpp"
#include "haftwright/session/samples.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"
#include "ui.hpp"

namespace haftwright::app {
namespace {

namespace fs = std::filesystem;

std::string plain_name(const fs::path& path) {
  std::string name = path.stem().string();
  std::replace(name.begin(), name.end(), '_', ' ');
  if (!name.empty() && name[0] >= 'a' && name[0] <= 'z') name[0] = static_cast<char>(name[0] - 32);
  return name;
}

std::string time_text(std::chrono::system_clock::time_point when) {
  const std::time_t time = std::chrono::system_clock::to_time_t(when);
  std::tm local{};
  localtime_r(&time, &local);
  char text[32];
  return std::strftime(text, sizeof text, "%Y-%m-%d %H:%M", &local) ? text : "";
}

constexpr float kPictureHeight = 200;  // pixels at scale 1

}  // namespace

void StartPage::show(Session& session, const std::function<void()>& ask_open) {
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float width = std::min(room.x, scaled(980));
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + (room.x - width) / 2);
  ImGui::BeginChild("start", {width, 0});
  ImGui::Dummy({0, scaled(18)});
  ImGui::PushFont(title_font());
  ImGui::TextUnformatted("Haftwright");
  ImGui::PopFont();
  wrapped("Lay out a two-sided handle before you cut, and know that both sides meet before you drill.");
  offers(session);
  ImGui::Dummy({0, scaled(10)});
  const float half = (width - ImGui::GetStyle().ItemSpacing.x * 2) / 2;
  ImGui::BeginChild("files", {half, 0});
  heading("Open");
  if (wide_button("Open a project file ...",
                  "Or drop one on this window (Ctrl+O), or a tang drawn as DXF or SVG."))
    ask_open();
  if (!session.settings().recent.empty()) heading("Recent");
  const std::vector<fs::path> recent = session.settings().recent;
  for (const fs::path& path : recent) {
    if (wide_button(plain_name(path) + "##" + path.string(), path.string().c_str()))
      session.request_open(path);
  }
  heading("Samples");
  static const std::vector<fs::path> samples = sample_projects();
  for (const fs::path& path : samples)
    if (wide_button(plain_name(path) + "##sample",
                    "A copy to look at and to try things on; save it where you like."))
      session.request_open(path);
  ImGui::EndChild();
  ImGui::SameLine(0, ImGui::GetStyle().ItemSpacing.x * 2);
  ImGui::BeginChild("new", {half, 0});
  new_form(session);
  ImGui::EndChild();
  ImGui::EndChild();
}

void StartPage::offers(Session& session) {
  if (session.offers().empty()) return;
  heading("Unsaved work was left behind");
  for (std::size_t i = 0; i < session.offers().size(); ++i) {
    const Offer& offer = session.offers()[i];
    ImGui::PushID(static_cast<int>(i));
    ImGui::AlignTextToFramePadding();
    ImGui::Text("%s, %s", offer.name.c_str(), time_text(offer.when).c_str());
    ImGui::SameLine();
    const bool restore =
        button("Take it up again", "Opens it, still unsaved, so that you can look at it and save it.");
    ImGui::SameLine();
    const bool discard = button("Throw it away", "Removes this unsaved work for good.");
    ImGui::PopID();
    if (restore) session.request_restore(i);
    if (discard) session.discard_offer(i);
    if (restore || discard) return;
  }
}

std::vector<Node> StartPage::outline() const {
  return shape_ == 0 ? starter_outline(straight_) : starter_outline(bowed_);
}

/// The tang as typed so far; while the numbers make none, why.
void StartPage::outline_picture(LengthUnit unit) {
  const float top = ImGui::GetCursorPosY();
  try {
    ShownDrawing sheet(shape_ == 0 ? draw_starter(straight_, unit) : draw_starter(bowed_, unit));
    drawing_box(sheet, "tang measure", "The tang as its numbers make it, blade to the left.",
                scaled(kPictureHeight));
    picture_height_ = ImGui::GetCursorPosY() - top;
  } catch (const std::invalid_argument& error) {
    wrapped(error.what());
    ImGui::SetCursorPosY(
        std::max(ImGui::GetCursorPosY(), top + picture_height_));  // the fields stay where they are
  }
}

void StartPage::new_form(Session& session) {
  heading("New from a tang");
  const LengthUnit unit = session.settings().unit;
  if (radio("Straight", "Level spine and belly, tapering evenly from front to butt.", shape_ == 0))
    shape_ = 0;
  ImGui::SameLine();
  if (radio("Bowed", "The spine bows out, the belly swells to a drop at the butt.", shape_ == 1)) shape_ = 1;
  outline_picture(unit);
  const Design blank;
  begin_fields("tang");
  FieldPainter painter(blank, unit);
  if (shape_ == 0)
    visit_fields(painter, straight_);
  else
    visit_fields(painter, bowed_);
  const auto typed =
      quantity_field("steel_thickness_mm", schema::kTangThickness, thickness_mm_, "of the tang", unit);
  if (typed) thickness_mm_ = *typed;
  end_fields();
  if (painter.changed() || typed) trouble_.clear();
  if (wide_button("Begin",
                  "Two pieces a side and three pins to start from, with your shop's values; everything can "
                  "be changed.")) {
    try {
      session.request_new_in_shop(starter_design(outline(), thickness_mm_, unit));
      trouble_.clear();
    } catch (const std::exception& error) {
      trouble_ = error.what();
    }
  }
  if (!trouble_.empty()) wrapped(trouble_);
}

}  // namespace haftwright::app
