// The large 3D view: the finished handle or the drill guide, with standard views, exploded, cut open,
// ghosted, mismatch.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "scene_box.hpp"

namespace haftwright::app {

enum class Section { none, lengthwise, across, level };
enum class SceneSubject { handle, guide };

struct ScenePaneState {
  SceneBox box;
  SceneSubject subject = SceneSubject::handle;
  bool planned_wood = true;                   ///< pieces look like the wood that they are planned from
  std::shared_ptr<const PlannedWoods> woods;  ///< that `pictures` show; null: none
  std::vector<WoodPicture> pictures;
  Section section = Section::none;
  float section_at = 0.5F;  ///< share of the extent

  std::uint64_t drawn_revision = 0;  ///< document revision + 1 of the meshes
  bool drawn_fine = false;
  SceneSubject drawn_subject = SceneSubject::handle;
  std::shared_ptr<const DrillGuide> drawn_guide;
  std::string under_mouse;  ///< name of the part there; empty for none
};

void scene_pane(const Ui& ui, ScenePaneState& state, bool dark, ImVec2 size);
/// The views' lines of a menu.
void scene_menu(ScenePaneState& state);
/// The scene as it stands, at another size; for saving a picture.
Picture scene_picture(const Ui& ui, const ScenePaneState& state, PictureSize size, bool transparent);

}  // namespace haftwright::app
