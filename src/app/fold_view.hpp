// The handle unrolled about spine or belly, where things are taken hold of and dragged.
#pragma once

#include <imgui.h>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/preview/fold.hpp"
#include "ui.hpp"

namespace haftwright::app {

/// From the drawing's millimetres to the screen and back.
struct SheetFrame {
  ImVec2 origin{0, 0};  ///< screen place of the drawing's `centre`
  Vec2 centre{0, 0};
  double pixels_per_mm = 5;

  ImVec2 to_screen(Vec2 p) const {
    return {origin.x + static_cast<float>((p.x - centre.x) * pixels_per_mm),
            origin.y - static_cast<float>((p.y - centre.y) * pixels_per_mm)};
  }
  Vec2 to_drawing(ImVec2 p) const {
    return {centre.x + (p.x - origin.x) / pixels_per_mm, centre.y - (p.y - origin.y) / pixels_per_mm};
  }
};

/// Something that can be taken hold of.
struct Grip {
  Selection what;
  FoldPlace place;
  Vec2 at{0, 0};      ///< drawing mm
  std::string label;  ///< name of the step that dragging it makes
};

struct FoldViewState {
  FoldAbout about = FoldAbout::spine;
  bool edit_outline = false;  ///< the tang's corners can be dragged
  bool snap = true;
  bool measure = false;
  std::vector<Vec2> measured;  ///< drawing mm: none, one or two ends
  bool fit = true;             ///< next frame
  SheetFrame frame;
  std::optional<Grip> held;
  Vec2 held_off{0, 0};  ///< from the mouse to the grip when it was taken

  // What was drawn last, kept while the document's revision stays.
  std::uint64_t drawn_revision = 0;
  FoldAbout drawn_about = FoldAbout::spine;
  FoldDrawing drawing;
  std::vector<std::vector<std::array<std::uint32_t, 3>>> triangles;  ///< of each area
};

void fold_view(const Ui& ui, FoldViewState& state, ImVec2 size);

// The parts of it, each in a file of its own.
void paint_fold(const Ui& ui, const FoldViewState& state, ImDrawList& draw);
void paint_findings(const Ui& ui, const FoldViewState& state, ImDrawList& draw);
std::vector<Grip> grips(const Ui& ui, const FoldViewState& state);
/// The edit that brings a grip to a place of the drawing.
Edited dragged(const Design& base, const Handle& handle, const Grip& grip, const FoldPlace& to, bool snap,
               bool along_axis);
/// Drawing places at which a place of the handle shows: on a face, or on both for the tang's own.
std::vector<Vec2> shown_at(const FoldMap& map, const Handle& handle, Vec3 place);

}  // namespace haftwright::app
