// One joint: its place, and how it leans.
#include "haftwright/edits/build_up.hpp"

#include <cmath>
#include <numbers>

#include "haftwright/edits/sides.hpp"
#include "parts.hpp"

namespace haftwright {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

/// Changes one joint.
template <class Change>
Edited change_joint(const Design& design, Which side, std::size_t joint, Change&& change) {
  const auto list = [side](Design& edited) -> std::vector<Joint>& { return edits::joints_of(edited, side); };
  return edits::change_entry(design, list, joint, "joint", edits::on(side), change);
}

/// The other side's joint of that number; none where the sides are linked, since it moves along.
std::optional<Joint> opposite(const Design& design, Which side, std::size_t joint) {
  if (linked(design, SideField::joints)) return std::nullopt;
  const std::vector<Joint>& other = side == Which::left ? *design.right.joints : design.left.joints;
  if (joint >= other.size()) return std::nullopt;
  return other[joint];
}

/// The joint itself, or none.
std::optional<Joint> joint_of(const Design& design, Which side, std::size_t joint) {
  const Side values = side == Which::left ? design.left : design.right_side();
  if (joint >= values.joints.size()) return std::nullopt;
  return values.joints[joint];
}

double tangent(double deg) {
  return std::tan(deg / kDegrees);
}

/// An angle settled at 0 or at the other side's.
double settled_deg(double deg, std::optional<double> other_deg, double within_deg) {
  if (!(within_deg > 0)) return deg;
  std::vector<double> places{0};
  if (other_deg) places.push_back(*other_deg);
  return edits::snapped(deg, places, within_deg);
}

}  // namespace

Edited move_joint(const Design& design, Which side, std::size_t joint, double place_mm) {
  return change_joint(design, side, joint, [&](Joint& changed) { changed.place_mm = place_mm; });
}

Edited move_joint(const Design& design, Which side, std::size_t joint, double place_mm,
                  double snap_within_mm) {
  const std::optional<Joint> other = opposite(design, side, joint);
  if (other && snap_within_mm > 0) place_mm = edits::snapped(place_mm, {other->place_mm}, snap_within_mm);
  return move_joint(design, side, joint, place_mm);
}

Edited slant_joint(const Design& design, Which side, std::size_t joint, double slant_deg) {
  return change_joint(design, side, joint, [&](Joint& changed) { changed.slant_deg = slant_deg; });
}

Edited rake_joint(const Design& design, Which side, std::size_t joint, double rake_deg) {
  return change_joint(design, side, joint, [&](Joint& changed) { changed.rake_deg = rake_deg; });
}

Edited slant_joint_through(const Design& design, Which side, std::size_t joint, Vec3 xys,
                           double snap_within_deg) {
  const std::optional<Joint> now = joint_of(design, side, joint);
  if (!now) return edits::no_such("joint", joint, edits::on(side));
  if (!(std::abs(xys.y) >= kLeastLeverMm))
    return Edited::refused("a joint is slanted by its ends: take hold of the line away from the axis");
  const double tan_slant = (xys.x - now->place_mm - xys.z * tangent(now->rake_deg)) / xys.y;
  const std::optional<Joint> other = opposite(design, side, joint);
  return slant_joint(design, side, joint,
                     settled_deg(std::atan(tan_slant) * kDegrees,
                                 other ? std::optional(other->slant_deg) : std::nullopt, snap_within_deg));
}

Edited rake_joint_through(const Design& design, Which side, std::size_t joint, Vec3 xys,
                          double snap_within_deg) {
  const std::optional<Joint> now = joint_of(design, side, joint);
  if (!now) return edits::no_such("joint", joint, edits::on(side));
  if (!(xys.z >= kLeastLeverMm))
    return Edited::refused("there is no wall to lean the joint in: take hold of it further from the tang");
  const double tan_rake = (xys.x - now->place_mm - xys.y * tangent(now->slant_deg)) / xys.z;
  const std::optional<Joint> other = opposite(design, side, joint);
  return rake_joint(design, side, joint,
                    settled_deg(std::atan(tan_rake) * kDegrees,
                                other ? std::optional(other->rake_deg) : std::nullopt, snap_within_deg));
}

}  // namespace haftwright
