#include "planned_wood.hpp"

#include <algorithm>
#include <utility>

#include "places.hpp"

namespace haftwright::app {
namespace {

bool is_shown(const ScenePaneState& state, const WoodPlace& place) {
  const BodyId body{BodyKind::piece, place.side, place.piece};
  return std::ranges::find(state.pictures, body, &WoodPicture::body) != state.pictures.end();
}

std::string words_of(const ScenePaneState& state, const PlannedWoods::Piece& piece) {
  if (piece.photo) return is_shown(state, piece.place) ? "shown" : "the photo does not show its place";
  return piece.why_none.empty() ? "its photo is being read" : piece.why_none;
}

}  // namespace

void refresh_woods(const Ui& ui, ScenePaneState& state) {
  const bool wanted = state.subject == SceneSubject::handle && state.planned_wood;
  const auto woods = wanted ? ui.session.planned_woods() : nullptr;
  if (woods == state.woods) return;
  state.woods = woods;
  std::vector<WoodPicture> pictures;
  if (woods)
    for (const PlannedWoods::Piece& piece : woods->pieces)
      if (auto picture = piece.photo ? wood_picture(piece.place, piece.photo, piece.offcut) : std::nullopt)
        pictures.push_back(std::move(*picture));
  if (pictures == state.pictures) return;
  state.pictures = std::move(pictures);
  state.box.view->set_woods(state.pictures);
  state.box.stale = true;
}

void wood_choice(const Ui& ui, ScenePaneState& state) {
  if (state.subject != SceneSubject::handle || !ui.session.cutting().answer()) return;
  std::string tip =
      "Shows each piece in the very wood that the plan takes for it: what the photo of the offcut shows at "
      "its place. Off: each in its material.";
  if (state.woods)
    for (const PlannedWoods::Piece& piece : state.woods->pieces)
      if (!is_shown(state, piece.place)) tip += "\n" + piece.name + ": " + words_of(state, piece);
  flow("Planned wood []");
  check_box("Planned wood", tip.c_str(), state.planned_wood);
  if (state.woods)
    for (const PlannedWoods::Piece& piece : state.woods->pieces)
      places::item("planned wood", piece.name, words_of(state, piece));
}

}  // namespace haftwright::app
