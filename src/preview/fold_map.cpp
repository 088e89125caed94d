#include <algorithm>

#include "haftwright/preview/fold.hpp"

namespace haftwright {
namespace {

/// Greatest height of a side's finished surface above the mid-plane.
double reach_mm(const Handle& handle, const SideLayout& side) {
  const Bounds& bounds = side.finished.bounds();
  const double tang =
      std::max(handle.tang_thickness_mm(bounds.low.x), handle.tang_thickness_mm(bounds.high.x));
  double scale = 0;
  for (const Part& part : side.parts) scale = std::max(scale, part.s_high_mm);
  return tang / 2 + side.liner_total_mm + scale;
}

Bounds face_bounds(const Handle& handle, const SideLayout& side) {
  const Bounds& tang = handle.tang.bounds();
  const Bounds& scale = side.finished.bounds();
  return {glm::min(tang.low, scale.low), glm::max(tang.high, scale.high)};
}

}  // namespace

FoldMap::FoldMap(const Handle& handle, FoldAbout about, double gap_mm) : about_(about) {
  const double up = about == FoldAbout::spine ? 1 : -1;
  const Bounds left = face_bounds(handle, handle.left);
  const Bounds right = face_bounds(handle, handle.right);
  const double left_edge = about == FoldAbout::spine ? left.high.y : left.low.y;
  const double right_edge = about == FoldAbout::spine ? right.high.y : right.low.y;
  const double near = left_edge + up * gap_mm;
  const double far = near + up * (reach_mm(handle, handle.left) + reach_mm(handle, handle.right));
  strip_sign_ = -up;
  strip_at_zero_ = near + up * reach_mm(handle, handle.left);
  right_at_zero_ = far + up * gap_mm + right_edge;
  left_to_strip_ = near - up * gap_mm / 2;
  strip_to_right_ = far + up * gap_mm / 2;
}

Motion FoldMap::onto_face(Which side) const {
  return side == Which::left ? Motion{} : Motion{.shift_mm = {0, right_at_zero_}, .mirrored = true};
}

Vec2 FoldMap::on_strip(double x, double z) const {
  return {x, strip_at_zero_ + strip_sign_ * z};
}

Vec2 FoldMap::to_drawing(const FoldPlace& place) const {
  if (place.region == FoldRegion::edge_strip) return on_strip(place.x_mm, place.y_or_z_mm);
  return on_face(place.region == FoldRegion::left_face ? Which::left : Which::right,
                 {place.x_mm, place.y_or_z_mm});
}

FoldPlace FoldMap::to_handle(Vec2 drawing) const {
  const double up = about_ == FoldAbout::spine ? 1 : -1;
  if (up * (drawing.y - left_to_strip_) < 0) return to_handle(drawing, FoldRegion::left_face);
  if (up * (drawing.y - strip_to_right_) < 0) return to_handle(drawing, FoldRegion::edge_strip);
  return to_handle(drawing, FoldRegion::right_face);
}

FoldPlace FoldMap::to_handle(Vec2 drawing, FoldRegion region) const {
  switch (region) {
    case FoldRegion::left_face:
      return {region, drawing.x, drawing.y};
    case FoldRegion::edge_strip:
      return {region, drawing.x, strip_sign_ * (drawing.y - strip_at_zero_)};
    case FoldRegion::right_face:
      return {region, drawing.x, right_at_zero_ - drawing.y};
  }
  return {};
}

}  // namespace haftwright
