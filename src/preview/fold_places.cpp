#include "haftwright/preview/fold_places.hpp"

#include <cmath>

#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

constexpr Which kSides[] = {Which::left, Which::right};
constexpr double kInSteel = 1e-6;  // mm inside the tang's face from which on a place belongs to the steel

FoldRegion face_of(Which side) {
  return side == Which::left ? FoldRegion::left_face : FoldRegion::right_face;
}

class Collector {
 public:
  Collector(const FoldMap& map, std::vector<FoldPoint>& points) : map_(map), points_(points) {}

  void on_faces(FoldPointKind kind, Vec2 at, const std::string& name) {
    for (const Which side : kSides) add(kind, {face_of(side), at.x, at.y}, name);
  }
  /// An end on the finished surface: on its face, and on the strip when that shows this end.
  void line_end(FoldPointKind kind, Which side, Vec3 outer, bool spine, const std::string& what) {
    const std::string name = what + (spine ? ", at the spine" : ", at the belly");
    add(kind, {face_of(side), outer.x, outer.y}, name);
    if (spine == (map_.about() == FoldAbout::spine))
      add(kind, {FoldRegion::edge_strip, outer.x, outer.z}, name);
  }

 private:
  void add(FoldPointKind kind, FoldPlace place, const std::string& name) {
    points_.push_back({kind, place, map_.to_drawing(place), name});
  }

  const FoldMap& map_;
  std::vector<FoldPoint>& points_;
};

void add_lines(Collector& to, const SideLayout& side) {
  const auto both = [&](FoldPointKind kind, const LineEnd& spine, const LineEnd& belly,
                        const std::string& what) {
    to.line_end(kind, side.which, spine.outer, true, what);
    to.line_end(kind, side.which, belly.outer, false, what);
  };
  both(FoldPointKind::front_end, side.front_spine, side.front_belly, "front face");
  for (const JointLayout& joint : side.joints)
    for (std::size_t l = 0; l < joint.lines.size(); ++l)
      both(FoldPointKind::joint_end, joint.lines[l].spine, joint.lines[l].belly,
           numbered("joint", joint.joint) + (joint.lines.size() > 1 ? ", " + numbered("line", l) : ""));
}

/// Beside which edge a place lies: the one it is nearer to across the handle.
bool at_spine(const SideLayout& side, Vec3 place) {
  const Bounds& bounds = side.finished.bounds();
  return place.y > (bounds.low.y + bounds.high.y) / 2;
}

/// -1 on the right, 1 on the left, 0 in the steel.
int side_of(const Handle& handle, Vec3 place) {
  const double steel = handle.tang_thickness_mm(place.x) / 2 - kInSteel;
  return place.z > steel ? 1 : place.z < -steel ? -1 : 0;
}

}  // namespace

std::vector<FoldPoint> fold_points(const Design& design, const Handle& handle, const FoldMap& map) {
  std::vector<FoldPoint> points;
  Collector to(map, points);
  for (const PinLayout& pin : handle.pins) to.on_faces(FoldPointKind::hole, pin.at, numbered("pin", pin.pin));
  for (std::size_t i = 0; i < design.tang.holes.size(); ++i)
    to.on_faces(FoldPointKind::hole, design.tang.holes[i].at_mm, numbered("tang hole", i));
  for (const Which side : kSides) add_lines(to, handle.side(side));
  for (std::size_t i = 0; i < design.tang.outline.size(); ++i)
    to.on_faces(FoldPointKind::node, design.tang.outline[i].at, numbered("tang corner", i));
  for (std::size_t k = 0; k < design.tang.cutouts.size(); ++k)
    for (std::size_t i = 0; i < design.tang.cutouts[k].size(); ++i)
      to.on_faces(FoldPointKind::node, design.tang.cutouts[k][i].at,
                  numbered("cutout", k) + ", " + numbered("corner", i));
  return points;
}

const FoldPoint* nearest_point(const std::vector<FoldPoint>& points, Vec2 drawing, double within_mm) {
  const FoldPoint* best = nullptr;
  double reach = within_mm;
  for (const FoldPoint& point : points) {
    const double distance = glm::distance(point.at, drawing);
    if (distance > reach || (best && distance == reach)) continue;
    best = &point;
    reach = distance;
  }
  return best;
}

FoldSpan span_between(const FoldMap& map, Vec2 from, Vec2 to) {
  const FoldPlace a = map.to_handle(from);
  const FoldPlace b = map.to_handle(to);
  FoldSpan span{.along_mm = b.x_mm - a.x_mm};
  const bool strip_a = a.region == FoldRegion::edge_strip;
  const bool strip_b = b.region == FoldRegion::edge_strip;
  if (strip_a == strip_b) span.across_mm = b.y_or_z_mm - a.y_or_z_mm;
  if (a.region == b.region) span.distance_mm = glm::distance(from, to);
  return span;
}

std::vector<FoldPlace> shown_places(const Handle& handle, Vec3 place) {
  std::vector<FoldPlace> shown;
  const int side = side_of(handle, place);
  if (side >= 0) shown.push_back({FoldRegion::left_face, place.x, place.y});
  if (side <= 0) shown.push_back({FoldRegion::right_face, place.x, place.y});
  return shown;
}

std::vector<FoldStretch> shown_stretches(const Handle& handle, FoldAbout about, Vec3 from, Vec3 to) {
  const int side = side_of(handle, from);
  std::vector<FoldStretch> shown;
  if (side == side_of(handle, to)) {
    const std::vector<FoldPlace> starts = shown_places(handle, from);
    const std::vector<FoldPlace> ends = shown_places(handle, to);
    for (std::size_t i = 0; i < starts.size(); ++i) shown.push_back({starts[i], ends[i]});
    return shown;
  }
  const SideLayout& layout = side > 0 ? handle.left : handle.right;
  if (at_spine(layout, from) == (about == FoldAbout::spine))
    shown.push_back({{FoldRegion::edge_strip, from.x, from.z}, {FoldRegion::edge_strip, to.x, to.z}});
  return shown;
}

}  // namespace haftwright
