#include "places.hpp"

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>

namespace haftwright::app::places {
namespace {

using Json = nlohmann::ordered_json;

/// As the clock of Python's time.monotonic(), so that a script can tell how long the start took.
double now_s() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

struct Frame {
  std::filesystem::path file;
  std::size_t number = 0;
  double first_s = 0;
  Json places = Json::array();
  Json session;
};

/// Null unless the file is wanted.
Frame* frame() {
  static const char* const wanted = std::getenv("HAFTWRIGHT_PLACES");
  static Frame only{wanted ? wanted : ""};
  return only.file.empty() ? nullptr : &only;
}

void note(const char* kind, std::string_view name, std::string_view text, ImVec2 low, ImVec2 high) {
  const ImVec2 middle{(low.x + high.x) / 2, (low.y + high.y) / 2};
  Json place = {{"kind", kind},
                {"name", name.substr(0, name.find("##"))},
                {"x", middle.x},
                {"y", middle.y},
                {"width", high.x - low.x},
                {"height", high.y - low.y},
                {"in_sight", ImGui::IsRectVisible(middle, {middle.x + 1, middle.y + 1})}};
  if (!text.empty()) place["text"] = text;
  frame()->places.push_back(std::move(place));
}

}  // namespace

bool wanted() {
  return frame() != nullptr;
}

void item(const char* kind, std::string_view name, std::string_view text) {
  if (!frame()) return;
  note(kind, name, text, ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
  frame()->places.back()["active"] = ImGui::IsItemActive();
}

void point(const char* kind, std::string_view name, ImVec2 at) {
  if (frame()) note(kind, name, {}, at, at);
}

void state(const Session& session) {
  if (!frame()) return;
  Json json = {
      {"path", session.path().string()},   {"title", session.title()},
      {"unsaved", session.unsaved()},      {"question", session.question() ? session.question()->text : ""},
      {"offers", session.offers().size()}, {"notices", Json::array()}};
  for (const Notice& notice : session.notices())
    json["notices"].push_back({{"title", notice.title}, {"lines", notice.lines}});
  if (const Document* document = session.document()) {
    json["dragging"] = document->drafting() ? document->draft_label() : "";
    json["undo"] = document->history().undo_label();
    json["redo"] = document->history().redo_label();
    json["problems"] = document->problems().size();
  }
  frame()->session = std::move(json);
}

void write(bool resting) {
  Frame* const now = frame();
  if (!now) return;
  if (now->number++ == 0) now->first_s = now_s();
  const ImGuiIO& io = ImGui::GetIO();
  const Json json = {{"frame", now->number},
                     {"first_frame_s", now->first_s},
                     {"resting", resting},
                     {"pointer", {io.MousePos.x, io.MousePos.y}},
                     {"pressed", io.MouseDown[0]},
                     {"session", std::exchange(now->session, Json())},
                     {"places", std::exchange(now->places, Json::array())}};
  // Renamed into place, so that nobody reads half of it.
  const std::filesystem::path half = now->file.string() + ".part";
  std::error_code error;
  const bool written =
      static_cast<bool>(std::ofstream(half) << json.dump(-1, ' ', false, Json::error_handler_t::replace));
  if (written) std::filesystem::rename(half, now->file, error);
  if (written && !error) return;
  std::cerr << "haftwright: HAFTWRIGHT_PLACES: " << now->file.string() << " can't be written\n";
  now->file.clear();
}

}  // namespace haftwright::app::places
