// What stands there before a project is open: unsaved work to take up again, recent files, samples, a new
// tang.
#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <ctime>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/preview/ear_clipping.hpp"
#include "haftwright/session/samples.hpp"
#include "shell.hpp"
#include "struct_fields.hpp"
#include "theme.hpp"

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

std::vector<Node> outline_of(const NewForm& form) {
  return form.shape == 0 ? starter_outline(form.straight) : starter_outline(form.bowed);
}

/// The tang as typed so far; nothing while the numbers make none.
void outline_picture(const NewForm& form) {
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = scaled(110);
  const ImVec2 low = ImGui::GetCursorScreenPos();
  ImGui::Dummy({width, height});
  tooltip("The tang as its numbers make it, blade to the left.");
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.AddRectFilled(low, {low.x + width, low.y + height}, palette().paper, scaled(4));
  std::vector<Vec2> loop;
  try {
    loop = polyline(Outline(outline_of(form)), 0.05);
  } catch (const std::exception&) {
    return;  // told when it is begun
  }
  Vec2 least = loop.front();
  Vec2 most = loop.front();
  for (const Vec2 p : loop) {
    least = glm::min(least, p);
    most = glm::max(most, p);
  }
  const double margin = scaled(12);
  const double scale =
      std::min((width - 2 * margin) / (most.x - least.x), (height - 2 * margin) / (most.y - least.y));
  std::vector<ImVec2> path;
  for (const Vec2 p : loop) {
    const Vec2 off = (p - (least + most) * 0.5) * scale;
    path.push_back(
        {low.x + width / 2 + static_cast<float>(off.x), low.y + height / 2 - static_cast<float>(off.y)});
  }
  for (const auto& [a, b, c] : fill(loop)) draw.AddTriangleFilled(path[a], path[b], path[c], palette().steel);
  draw.AddPolyline(path.data(), static_cast<int>(path.size()), palette().ink, ImDrawFlags_Closed,
                   scaled(1.5F));
}

}  // namespace

void Shell::start_page() {
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float width = std::min(room.x, scaled(980));
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() + (room.x - width) / 2);
  ImGui::BeginChild("start", {width, 0});
  ImGui::Dummy({0, scaled(18)});
  ImGui::PushFont(title_font());
  ImGui::TextUnformatted("Haftwright");
  ImGui::PopFont();
  wrapped("Lay out a two-sided handle before you cut, and know that both sides meet before you drill.");
  offers();
  ImGui::Dummy({0, scaled(10)});
  const float half = (width - ImGui::GetStyle().ItemSpacing.x * 2) / 2;
  ImGui::BeginChild("files", {half, 0});
  heading("Open");
  if (wide_button("Open a project file ...", "Or drop one on this window (Ctrl+O).")) ask_open();
  if (!session_.settings().recent.empty()) heading("Recent");
  const std::vector<fs::path> recent = session_.settings().recent;
  for (const fs::path& path : recent) {
    if (wide_button(plain_name(path) + "##" + path.string(), path.string().c_str()))
      session_.request_open(path);
  }
  heading("Samples");
  static const std::vector<fs::path> samples = sample_projects();
  for (const fs::path& path : samples)
    if (wide_button(plain_name(path) + "##sample",
                    "A copy to look at and to try things on; save it where you like."))
      session_.request_open(path);
  ImGui::EndChild();
  ImGui::SameLine(0, ImGui::GetStyle().ItemSpacing.x * 2);
  ImGui::BeginChild("new", {half, 0});
  new_form();
  ImGui::EndChild();
  ImGui::EndChild();
}

void Shell::offers() {
  if (session_.offers().empty()) return;
  heading("Unsaved work was left behind");
  for (std::size_t i = 0; i < session_.offers().size(); ++i) {
    const Offer& offer = session_.offers()[i];
    ImGui::PushID(static_cast<int>(i));
    ImGui::AlignTextToFramePadding();
    ImGui::Text("%s, %s", offer.name.c_str(), time_text(offer.when).c_str());
    ImGui::SameLine();
    const bool restore =
        button("Take it up again", "Opens it, still unsaved, so that you can look at it and save it.");
    ImGui::SameLine();
    const bool discard = button("Throw it away", "Removes this unsaved work for good.");
    ImGui::PopID();
    if (restore) session_.request_restore(i);
    if (discard) session_.discard_offer(i);
    if (restore || discard) return;
  }
}

void Shell::new_form() {
  heading("New from a tang");
  const LengthUnit unit = session_.settings().unit;
  NewForm& form = new_form_;
  if (radio("Straight", "Level spine and belly, tapering evenly from front to butt.", form.shape == 0))
    form.shape = 0;
  ImGui::SameLine();
  if (radio("Bowed", "The spine bows out, the belly swells to a drop at the butt.", form.shape == 1))
    form.shape = 1;
  outline_picture(form);
  const Design blank;
  begin_fields("tang");
  FieldPainter painter(blank, unit);
  if (form.shape == 0)
    visit_fields(painter, form.straight);
  else
    visit_fields(painter, form.bowed);
  const auto typed =
      quantity_field("steel_thickness_mm", schema::kTangThickness, form.thickness_mm, "of the tang", unit);
  if (typed) form.thickness_mm = *typed;
  end_fields();
  if (painter.changed() || typed) form.trouble.clear();
  if (wide_button("Begin",
                  "Two pieces a side and three pins to start from, with your shop's values; everything can "
                  "be changed.")) {
    try {
      session_.request_new_in_shop(starter_design(outline_of(form), form.thickness_mm, unit));
      form.trouble.clear();
    } catch (const std::exception& error) {
      form.trouble = error.what();
    }
  }
  if (!form.trouble.empty()) wrapped(form.trouble);
}

}  // namespace haftwright::app
