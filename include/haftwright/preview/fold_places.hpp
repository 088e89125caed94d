// Places and lines of the handle as the fold view shows them: what a measure may settle on, and where a
// measured distance is to be drawn.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/preview/fold.hpp"

namespace haftwright {

enum class FoldPointKind { hole, joint_end, front_end, node };

/// A place that a measurement may settle on.
struct FoldPoint {
  FoldPointKind kind = FoldPointKind::hole;
  FoldPlace place;
  Vec2 at{0, 0};     ///< drawing mm
  std::string name;  ///< "pin 2", "joint 1, at the spine", "tang corner 3"
};

/// Middles of pins and of the tang's own holes on both faces, ends of joint lines and front faces on the
/// finished surface (on the faces and, at the edge unrolled about, on the strip), nodes of the tang's outline
/// and of its cutouts on both faces.
std::vector<FoldPoint> fold_points(const Design& design, const Handle& handle, const FoldMap& map);
/// The one nearest to a place of the drawing and no farther than `within_mm`; the first of equals. Null when
/// there is none.
const FoldPoint* nearest_point(const std::vector<FoldPoint>& points, Vec2 drawing, double within_mm);

/// How far two places of the drawing are from each other on the handle.
struct FoldSpan {
  double along_mm = 0;              ///< x of the second less x of the first
  std::optional<double> across_mm;  ///< y or z likewise; none between a face and the strip
  std::optional<double>
      distance_mm;  ///< straight; only within one region, where the drawing is true to scale
};
FoldSpan span_between(const FoldMap& map, Vec2 from, Vec2 to);

/// Where a place of the handle shows: on the face of its side; what lies in the steel, on both.
std::vector<FoldPlace> shown_places(const Handle& handle, Vec3 place);

struct FoldStretch {
  FoldPlace from;
  FoldPlace to;
};
/// Where a line from place to place shows: on the face of its side, on both for what lies in the steel. One
/// that runs from side to side shows on the strip, if it is at the edge unrolled about; else nowhere.
std::vector<FoldStretch> shown_stretches(const Handle& handle, FoldAbout about, Vec3 from, Vec3 to);

}  // namespace haftwright
