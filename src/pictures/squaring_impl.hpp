// What a Squaring is made of.
#pragma once

#include "haftwright/pictures/squaring.hpp"
#include "homography.hpp"

struct haftwright::Squaring::Impl {
  /// One way in which the picture may map to the face.
  struct Map {
    Lens lens;
    pictures::Homography to_straight;  ///< from the plane of the marks, in millimetres
    pictures::Homography to_plane;
    /// The face is the plane of the marks shrunk towards `foot` by `shrink`: seen from over the foot, a face
    /// that lies h nearer appears larger by H / (H - h).
    Vec2 foot_mm{0, 0};
    double shrink = 1;

    Vec2 on_plane(Vec2 face_mm) const { return foot_mm + (face_mm - foot_mm) / shrink; }
    Vec2 on_face(Vec2 plane_mm) const { return foot_mm + (plane_mm - foot_mm) * shrink; }
    Vec2 to_mm(Vec2 px) const { return on_face(to_plane(lens.straightened(px))); }
    Vec2 to_px(Vec2 mm) const { return lens.bowed(to_straight(on_plane(mm))); }
  };

  Map map;
  std::optional<pictures::HomographyFit> fit;  ///< none for a scan
  std::vector<Map> other_lenses;               ///< with the lens as far off as it may be
  std::vector<Map> other_cameras;
  double mark_error_px = 0;
  double size_error_share = 0;
  double height_error_mm = 0;
  double face_above_mm = 0;
  bool lens_is_found = false;
  std::optional<Squaring::Camera> camera;
  std::vector<double> residuals_mm;
  Bounds measured_mm;
  Vec2 middle_mm{0, 0};
  int width_px = 0;
  int height_px = 0;
};

namespace haftwright::pictures {

/// Where the camera stands that sees the plane by `to_straight`, its middle at `centre_px`, with a lens at
/// `focal_px` from the picture.
Squaring::Camera camera_of(const Homography& to_straight, Vec2 centre_px, double focal_px);

}  // namespace haftwright::pictures
