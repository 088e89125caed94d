// The finished handle in 3D: orbit, standard views, exploded, cut open, ghosted, mismatch.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <optional>
#include <string>

#include "haftwright/render/scene_view.hpp"
#include "ui.hpp"

namespace haftwright::app {

enum class Section { none, lengthwise, across, level };

struct ScenePaneState {
  std::optional<SceneView> view;  ///< made with the first frame, when there is a GL context
  std::string trouble;            ///< why there is no view
  Camera camera = standard_camera(StandardView::three_quarter, true);
  SceneOptions options;
  Section section = Section::none;
  float section_at = 0.5F;  ///< share of the handle's extent
  bool fit = true;
  bool turning = false;

  std::uint64_t drawn_revision = 0;  ///< document revision + 1 of the meshes
  bool drawn_fine = false;
  Preview preview;
  bool picture_stale = true;
  PictureSize size{0, 0};
};

void scene_pane(const Ui& ui, ScenePaneState& state, bool dark, ImVec2 size);
/// The scene as it stands, at another size; for saving a picture.
Picture scene_picture(const Ui& ui, const ScenePaneState& state, PictureSize size, bool transparent);

}  // namespace haftwright::app
