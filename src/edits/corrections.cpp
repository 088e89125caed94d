#include "haftwright/edits/corrections.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/edits/sides.hpp"
#include "parts.hpp"

namespace haftwright {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

double stack_mm(const Joint& joint) {
  double stack = 0;
  for (const Sheet& strip : joint.spacers) stack += strip.thickness_mm;
  return stack;
}

/// A sheet such as the side has already.
std::string strip_material(const Side& side) {
  for (const Joint& joint : side.joints)
    if (!joint.spacers.empty()) return joint.spacers.front().material;
  return side.liners.empty() ? "vulcanized_fibre" : side.liners.front().material;
}

/// Puts the joint on its new lines, with one strip as thick as it takes.
StripChange fill(Joint& joint, const std::string& material, const JointLines& lines, double base_slope) {
  JointShape shape = shape_of(joint);
  shape.tan_slant = lines.slope;
  shape.place_mm = (lines.front_mm + lines.rear_mm) / 2;
  shape.stack_mm =
      (lines.rear_mm - lines.front_mm) / shape.plane(StripEdge::front, base_slope).x0_per_mm(base_slope);
  StripChange change;
  if (joint.spacers.empty()) {
    joint.spacers.push_back({material, shape.stack_mm});
    give_shape(joint, shape);
  } else {
    const std::vector<Sheet> before = joint.spacers;
    change.strip = give_shape(joint, shape);
    change.from_mm = before[change.strip].thickness_mm;
  }
  change.to_mm = joint.spacers[change.strip].thickness_mm;
  return change;
}

}  // namespace

CutPlane JointShape::plane(StripEdge edge, double base_slope) const {
  CutPlane plane{place_mm, tan_slant, tan_rake};
  plane.x0_mm += (edge == StripEdge::front ? -0.5 : 0.5) * stack_mm * plane.x0_per_mm(base_slope);
  return plane;
}

JointShape shape_of(const Joint& joint) {
  return {joint.place_mm, std::tan(joint.slant_deg / kDegrees), std::tan(joint.rake_deg / kDegrees),
          stack_mm(joint)};
}

std::size_t give_shape(Joint& joint, const JointShape& shape) {
  joint.place_mm = shape.place_mm;
  joint.slant_deg = std::atan(shape.tan_slant) * kDegrees;
  joint.rake_deg = std::atan(shape.tan_rake) * kDegrees;
  if (joint.spacers.empty()) return 0;
  const auto thickest = std::ranges::max_element(joint.spacers, {}, &Sheet::thickness_mm);
  thickest->thickness_mm += shape.stack_mm - stack_mm(joint);
  return static_cast<std::size_t>(thickest - joint.spacers.begin());
}

JointShape carried(const JointShape& shape, const Pose& pose) {
  const double c = std::cos(pose.turn_rad), s = std::sin(pose.turn_rad);
  JointShape after = shape;
  const double stretch = c + s * shape.tan_slant;
  after.tan_slant = (c * shape.tan_slant - s) / stretch;
  after.tan_rake = shape.tan_rake / stretch;
  const Vec2 on_axis = Vec2{c, s} * shape.place_mm + pose.shift_mm;
  after.place_mm = on_axis.x - on_axis.y * after.tan_slant;
  return after;
}

Edited drop_readings(const Design& design) {
  Design edited = design;
  edited.dry_fit.clear();
  return edited;
}

Edited move_right_joints(const Design& design, const Pose& pose) {
  Design edited = *drop_readings(*unlink(design, SideField::joints));
  for (Joint& joint : *edited.right.joints) give_shape(joint, carried(shape_of(joint), pose));
  return edited;
}

Edited link_equal_joints(const Design& design) {
  constexpr double kSameMm = 1e-7;
  constexpr double kSameSlantDeg = 1e-6;
  constexpr double kSameRakeDeg = 0.01;  // 2 thousandths of a millimetre through 10 mm of wood
  const auto same_strips = [](const Sheet& a, const Sheet& b) {
    return a.material == b.material && std::abs(a.thickness_mm - b.thickness_mm) < kSameMm;
  };
  const auto same = [&](const Joint& a, const Joint& b) {
    return std::abs(a.place_mm - b.place_mm) < kSameMm &&
           std::abs(a.slant_deg - b.slant_deg) < kSameSlantDeg &&
           std::abs(a.rake_deg - b.rake_deg) < kSameRakeDeg &&
           std::ranges::equal(a.spacers, b.spacers, same_strips);
  };
  Design edited = design;
  if (design.right.joints && std::ranges::equal(*design.right.joints, design.left.joints, same))
    edited.right.joints.reset();
  return edited;
}

FilledJoint fill_joint(const Design& design, std::size_t joint, const JointLines& lines, double base_slope) {
  Design edited = *drop_readings(*unlink(design, SideField::joints));
  FilledJoint filled{
      Edited::refused("the joint's lines would cross"), {Which::left, joint}, {Which::right, joint}};
  if (!(lines.rear_mm >= lines.front_mm)) return filled;
  for (StripChange* change : {&filled.left, &filled.right}) {
    const Side side = change->side == Which::left ? edited.left : edited.right_side();
    std::vector<Joint>& joints = edits::joints_of(edited, change->side);
    if (joint >= joints.size()) {
      filled.edited = edits::no_such("joint", joint, edits::on(change->side));
      return filled;
    }
    const StripChange made = fill(joints[joint], strip_material(side), lines, base_slope);
    *change = {change->side, joint, made.strip, made.from_mm, made.to_mm};
    if (!(made.to_mm > 0)) {
      filled.edited = Edited::refused("there is no room for the strips of that joint between the new lines");
      return filled;
    }
  }
  filled.edited = std::move(edited);
  return filled;
}

}  // namespace haftwright
