#include "haftwright/cutting/needs.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/geometry/outline_ops.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

std::vector<Vec2> box(Vec2 low, Vec2 high) {
  return {low, {high.x, low.y}, high, {low.x, high.y}};
}

/// What of a convex polygon fulfils dot(normal, p) <= limit.
std::vector<Vec2> kept(const std::vector<Vec2>& polygon, const HalfPlane& keep) {
  std::vector<Vec2> result;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 a = polygon[i];
    const Vec2 b = polygon[(i + 1) % polygon.size()];
    const double over_a = glm::dot(keep.normal, a) - keep.limit;
    const double over_b = glm::dot(keep.normal, b) - keep.limit;
    if (over_a <= 0) result.push_back(a);
    if ((over_a < 0 && over_b > 0) || (over_a > 0 && over_b < 0))
      result.push_back(a + (b - a) * (over_a / (over_a - over_b)));
  }
  return result;
}

/// Everything behind a plane, `out_mm` square to its line ahead of it, at the height where it lies foremost;
/// or, in front of it.
HalfPlane behind(const CutPlane& plane, double thickness_mm, double out_mm) {
  const double foremost =
      plane.x0_mm + std::min(0.0, plane.tan_rake * thickness_mm) - out_mm * std::hypot(1.0, plane.tan_slant);
  return {{-1, plane.tan_slant}, -foremost};
}
HalfPlane ahead_of(const CutPlane& plane, double thickness_mm, double out_mm) {
  const double rearmost =
      plane.x0_mm + std::max(0.0, plane.tan_rake * thickness_mm) + out_mm * std::hypot(1.0, plane.tan_slant);
  return {{1, -plane.tan_slant}, rearmost};
}

Bounds bounds_of_all(const std::vector<Outline>& outlines) {
  Bounds all = outlines.front().bounds();
  for (const Outline& outline : outlines) {
    all.low = glm::min(all.low, outline.bounds().low);
    all.high = glm::max(all.high, outline.bounds().high);
  }
  return all;
}

std::vector<Vec2> blank_outline(const Part& part, const SideLayout& side, const ShopRules& rules,
                                double thickness_mm) {
  // The front face leans over wood that the plan of the inner face does not show; `edge` runs past it.
  std::vector<Outline> plan = clip(side.edge, behind(part.front, thickness_mm, 0));
  if (!part.to_butt) plan = clip(plan, ahead_of(part.rear, thickness_mm, 0));
  const Bounds reach = plan.empty() ? part.plan_bounds : bounds_of_all(plan);
  const double out = rules.blank_outline_allowance_mm;
  const double joint = rules.blank_joint_allowance_mm;
  const double far = glm::length(reach.size()) + 4 * (out + joint) + thickness_mm;
  const double rear = part.to_butt ? reach.high.x + out : reach.high.x + far;
  std::vector<Vec2> blank = box({reach.low.x - far, reach.low.y - out}, {rear, reach.high.y + out});
  blank = kept(blank, behind(part.front, thickness_mm, joint));
  if (!part.to_butt) blank = kept(blank, ahead_of(part.rear, thickness_mm, joint));
  return blank;
}

/// A rectangle: what is sawn or cut from a sheet before the liner is shaped with its scale.
std::vector<Vec2> liner_outline(const Part& part, double out_mm) {
  const Bounds reach = bounds_of_all(part.inner_face);
  return box(reach.low - Vec2{out_mm, out_mm}, reach.high + Vec2{out_mm, out_mm});
}

/// The strip as it lies on the bench: along the joint line, and up the joint's face.
std::vector<Vec2> strip_outline(const Part& part, double out_mm) {
  const double along = part.plan_bounds.size().y * std::hypot(1.0, part.front.tan_slant);
  const double up = part.s_high_mm * std::hypot(1.0, part.front.tan_rake);
  return box({-out_mm, -out_mm}, {along + out_mm, up + out_mm});
}

void add_side(const Design& design, const SideLayout& layout, Needs& needs) {
  const Side& side = layout.which == Which::left ? design.left : design.right_side();
  const ShopRules& rules = design.rules;
  for (const Part& part : layout.parts) {
    if (part.kind == PartKind::piece) {
      const Piece& piece = side.pieces[part.index];
      const double thick = part.s_high_mm + rules.blank_thickness_allowance_mm;
      needs.pieces.push_back({layout.which, part.index, part.name, part.material,
                              blank_outline(part, layout, rules, thick), thick, piece.grain,
                              piece.blank.length_mm && piece.blank.width_mm});
      continue;
    }
    const double out = rules.blank_outline_allowance_mm;
    const bool liner = part.kind == PartKind::liner;
    const double thick = liner ? side.liners[part.index].thickness_mm
                               : side.joints[part.joint].spacers[part.index].thickness_mm;
    needs.sheets.push_back({layout.which, part.kind, part.index, part.joint, part.name, part.material, thick,
                            liner ? liner_outline(part, out) : strip_outline(part, out)});
  }
}

}  // namespace

Needs needs_of(const Design& design, const Handle& handle) {
  Needs needs;
  add_side(design, handle.left, needs);
  const std::size_t left = needs.pieces.size();
  add_side(design, handle.right, needs);
  if (needs.pieces.size() == 2 * left)
    for (std::size_t i = 0; i < left; ++i)
      if (needs.pieces[i].material == needs.pieces[left + i].material) needs.mates.push_back({i, left + i});
  for (const PinLayout& pin : handle.pins)
    needs.pins.push_back({pin.pin, design.pins[pin.pin].stock, pin.length_mm + 2 * kPinProudMm});
  return needs;
}

}  // namespace haftwright
