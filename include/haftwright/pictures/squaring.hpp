// From a picture to the plane that it shows, and back: in millimetres, with how far that may be off.
//
// Pixels: x to the right, y down, the middle of the first pixel at (0.5, 0.5). Millimetres: x to the right, y
// UP, as everywhere in Haftwright.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <vector>

#include "haftwright/geometry/outline.hpp"
#include "haftwright/pictures/photo.hpp"

namespace haftwright {

/// A place that is known on the picture and in the plane.
struct Mark {
  Vec2 at_px{0, 0};
  Vec2 at_mm{0, 0};
  bool operator==(const Mark&) const = default;
};

/// How a lens bows straight lines. A place at the distance r from the centre, in units of `unit_px`, belongs
/// at r / (1 + k1 r^2): the division model (Fitzgibbon, CVPR 2001). Over 0, lines look bowed towards the
/// middle (pincushion), under 0 away from it (barrel).
struct Lens {
  double k1 = 0;
  Vec2 centre_px{0, 0};
  double unit_px = 1;  ///< half the picture's diagonal

  Vec2 straightened(Vec2 px) const;
  /// The inverse, exact where k1 is under 0 or the place lies on the picture.
  Vec2 bowed(Vec2 straight_px) const;
};

/// Why marks do not square a picture up, as one sentence for the maker.
class SquaringError : public PictureError {
 public:
  using PictureError::PictureError;
};

struct SquaringInput {
  std::vector<Mark> marks;  ///< four or more, round what is to be measured
  /// Places along edges that are straight in truth (a rule, a sheet's side), three or more of each. The lens
  /// is found from them, and from the marks where there are six or more.
  std::vector<std::vector<Vec2>> straight_edges_px;
  /// How far the face to be measured lies nearer to the camera than the marks do; under 0: farther.
  double face_above_marks_mm = 0;
  /// By how much that may be wrong: a sheet that does not lie flat, a caliper reading. From own judgement.
  double height_error_mm = 0.2;
  /// Where known: from the lens square down to the plane of the marks.
  std::optional<double> camera_height_mm;
  /// Where known: PictureFacts::focal_px, for the picture as large as it is squared up.
  std::optional<double> focal_px;
  /// Where known: the lens's bow (Lens::k1), from -0.5 to 0.5. Then it is not sought, and taken to be off by
  /// at most 0.002 (own judgement: focusing changes it).
  std::optional<double> lens_k1;
  /// How far any mark may be off on the picture.
  double mark_error_px = 1;
  /// How far, as a share, the marks' own sizes may be off. 0.005: a sheet of A4, 1.5 mm in 297 mm (ISO 216
  /// allows 2 mm for sides of 150 to 600 mm).
  double size_error_share = 0;
  /// A lens that is not found from edges or marks is taken to shift a corner of the picture by at most this
  /// share of its distance from the middle. Telephones and cameras straighten their pictures to about 1 %
  /// (common practice); extra wide lenses may do worse.
  double lens_bow_share = 0.01;
};

/// How far a measured place may be off, by cause. Each is a bound if what it rests on holds.
struct PlaceBound {
  double marks_mm = 0;   ///< every mark off by its largest error in its worst direction
  double lens_mm = 0;    ///< what is not known of the lens
  double height_mm = 0;  ///< what is not known of the height of the face and the place of the camera
  double size_mm = 0;    ///< marks whose own sizes are off, from the marks' middle
  double total_mm() const { return marks_mm + lens_mm + height_mm + size_mm; }
};

/// A picture squared up. A value: cheap to copy.
class Squaring {
 public:
  /// Where a place of the picture lies on the face. Far beyond the marks a place may lie behind the horizon:
  /// what comes out there means nothing.
  Vec2 to_mm(Vec2 px) const;
  Vec2 to_px(Vec2 mm) const;

  /// By how much a measured place may be off. A length between two places is off by at most both bounds
  /// added.
  PlaceBound bound(Vec2 mm) const;
  double bound_mm(Vec2 mm) const { return bound(mm).total_mm(); }

  /// The farthest that a mark comes out from where it is said to be. Four marks always agree: no value.
  std::optional<double> largest_residual_mm() const;
  /// One a mark, as given; all 0 for four marks.
  const std::vector<double>& residuals_mm() const;

  const Lens& lens() const;
  /// Whether the lens was given, or found from edges or marks; otherwise it counts as straight.
  bool lens_is_found() const;
  /// The camera's height over the plane of the marks and the place under it, where there is one (none for a
  /// scan): from what was given, otherwise from the lens that telephones have.
  struct Camera {
    double height_mm = 0;
    Vec2 foot_mm{0, 0};
  };
  std::optional<Camera> camera() const;

  /// The picture's pixels a millimetre at a place, along the direction in which there are fewest.
  double px_per_mm(Vec2 mm) const;
  /// The box round the marks, on the face; for a scan round the whole picture.
  const Bounds& measured_mm() const;
  int width_px() const;
  int height_px() const;

  struct Impl;
  explicit Squaring(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}

 private:
  std::shared_ptr<const Impl> impl_;
};

/// Squares up a picture of that size. Throws SquaringError for fewer than four marks, marks off the picture,
/// at one place, on a line, in a wrong order (crossing, mirrored), that no plane can be seen at, or that do
/// not agree with each other; std::invalid_argument for a size or another value out of its range.
Squaring square_up(const SquaringInput& input, int width_px, int height_px);

/// The corners of a rectangle in their order round it, either way, and the lengths of its sides: from the
/// first to the second corner, and from the second to the third. The first corner becomes (0, 0) or (0,
/// `second_mm`), the first side the lower or the upper one, so that nothing is mirrored. `others`: everything
/// but its marks.
Squaring from_two_sides(const std::array<Vec2, 4>& corners_px, double first_mm, double second_mm,
                        const SquaringInput& others, int width_px, int height_px);

/// A scan of that resolution. The lower left corner of the picture becomes (0, 0). Scanners hold their scale
/// to some tenths of a percent (common practice): check yours with a rule.
Squaring from_dpi(double dpi, int width_px, int height_px, double size_error_share = 0.003);

}  // namespace haftwright
