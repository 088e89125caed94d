// Where the picture is seen from. Plain values; no GL.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "haftwright/preview/meshes.hpp"

namespace haftwright {

enum class StandardView { left, right, spine, belly, front, butt, three_quarter };
inline constexpr StandardView kStandardViews[] = {
    StandardView::left,  StandardView::right, StandardView::spine,        StandardView::belly,
    StandardView::front, StandardView::butt,  StandardView::three_quarter};
/// "left", ..., "three-quarter".
std::string_view name_of(StandardView view);
std::optional<StandardView> find_view(std::string_view name);

/// Looks from the eye along -back; the picture's middle shows `target`.
struct Camera {
  Vec3 target{0, 0, 0};
  Vec3 back{0, 0, 1};      ///< unit, from the target toward the eye
  Vec3 up{0, 1, 0};        ///< unit, square to back
  double height_mm = 100;  ///< what the picture's height spans at the target
  bool perspective = true;
  double field_of_view_deg = 24;  ///< top to bottom; perspective only

  Vec3 right() const;
  double distance_mm() const;  ///< eye to target, perspective only
};

struct PictureSize {
  int width = 1600;
  int height = 1000;
  double aspect() const { return static_cast<double>(width) / height; }
};

/// left: blade to the left, edge down. right: from the other side. spine: from above, the left side toward
/// the bottom of the picture. belly: from below, the left side on top. front: from the blade. butt: from
/// behind.
Camera standard_camera(StandardView view, bool perspective);
/// Moves target and height so that all of the preview, exploded by `exploded` (0 to 1), fills the picture but
/// for a margin (a share of its height and width on each side). Keeps the direction.
void fit(Camera& camera, const Preview& preview, double exploded, PictureSize size, double margin = 0.06);

/// Turns about the target: a drag to the right and up by so many degrees.
void orbit(Camera& camera, double right_deg, double up_deg);
/// Moves the picture by a share of its height to the right and up.
void pan(Camera& camera, double right_share, double up_share);
/// Magnifies by `factor` (> 0) so that what lies under `at` (pixels from the top left) stays there.
void zoom(Camera& camera, double factor, Vec2 at, PictureSize size);

/// Pixels from the top left; nothing when the point is not in front of the eye.
std::optional<Vec2> project(const Camera& camera, Vec3 point, PictureSize size);

}  // namespace haftwright
