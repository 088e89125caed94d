// Facing off the ends at a joint so far that a thicker strip, the same on both sides, makes its lines meet.
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "haftwright/edits/corrections.hpp"
#include "mends.hpp"

namespace haftwright::alignment {
namespace {

class Facing {
 public:
  Facing(const Found& found, std::size_t joint)
      : joint_(joint),
        designed_slope_(found.handle.left.joints[joint].lines.front().plane.tan_slant),
        sides_{&found.handle.left, &found.handle.right} {
    for (const SideLayout* side : sides_)
      for (const JointLine& line : side->joints[joint].lines) {
        belly_ = std::min(belly_, line.belly.inner.y);
        spine_ = std::max(spine_, line.spine.inner.y);
      }
  }

  /// Parallel lines that leave the narrowest gap: the front one ahead of both front lines, the rear one
  /// behind both rear lines. The gap is least for every slope between those of the two borders.
  JointLines lines() const {
    const double of_front = (foremost(spine_) - foremost(belly_)) / (spine_ - belly_);
    const double of_rear = (rearmost(spine_) - rearmost(belly_)) / (spine_ - belly_);
    JointLines made;
    made.slope = std::clamp(designed_slope_, std::min(of_front, of_rear), std::max(of_front, of_rear));
    made.front_mm = std::min(foremost(spine_) - spine_ * made.slope, foremost(belly_) - belly_ * made.slope);
    made.rear_mm = std::max(rearmost(spine_) - spine_ * made.slope, rearmost(belly_) - belly_ * made.slope);
    return made;
  }

  /// What comes off the ends of both sides' pieces.
  void add_facings(const JointLines& lines, std::vector<FacingOff>& facings) const {
    constexpr double kNothingMm = 1e-6;
    for (const SideLayout* side : sides_) {
      const auto& old = side->joints[joint_].lines;
      const auto off = [&](const LineEnd& end, double at_axis) {
        return std::abs(end.inner.x - at_axis - end.inner.y * lines.slope);
      };
      const FacingOff ahead{side->which,
                            joint_,
                            true,
                            joint_,
                            off(old.front().spine, lines.front_mm),
                            off(old.front().belly, lines.front_mm)};
      const FacingOff behind{side->which,
                             joint_ + 1,
                             false,
                             joint_,
                             off(old.back().spine, lines.rear_mm),
                             off(old.back().belly, lines.rear_mm)};
      for (const FacingOff& facing : {ahead, behind})
        if (std::max(facing.spine_mm, facing.belly_mm) > kNothingMm) facings.push_back(facing);
    }
  }

 private:
  double foremost(double y) const {
    double x = std::numeric_limits<double>::infinity();
    for (const SideLayout* side : sides_)
      x = std::min(x, side->joints[joint_].lines.front().plane.x_at(y, 0));
    return x;
  }
  double rearmost(double y) const {
    double x = -std::numeric_limits<double>::infinity();
    for (const SideLayout* side : sides_) x = std::max(x, side->joints[joint_].lines.back().plane.x_at(y, 0));
    return x;
  }

  std::size_t joint_;
  double designed_slope_;
  std::array<const SideLayout*, 2> sides_;
  double belly_ = std::numeric_limits<double>::infinity();
  double spine_ = -std::numeric_limits<double>::infinity();
};

std::string facing_words(const Found& found, const FacingOff& facing) {
  return "the " +
         spot_words(found.design,
                    {.thing = Thing::piece, .index = facing.piece, .sides = sides_of(facing.side)}) +
         "'s " + (facing.rear_end ? "rear" : "front") + " end by " + amount(facing.spine_mm, found.design) +
         " at the spine and " + amount(facing.belly_mm, found.design) + " at the belly";
}

std::string strip_words(const Found& found, const StripChange& left, const StripChange& right) {
  const auto one = [&](const StripChange& change) {
    return "one of " + amount(change.to_mm, found.design) +
           (change.from_mm > 0 ? " for strip " + std::to_string(change.strip + 1) + " of " +
                                     amount(change.from_mm, found.design)
                               : " where there was none");
  };
  const std::string on_left = one(left), on_right = one(right);
  if (on_left == on_right) return on_left + " on both sides";
  return on_left + " on the left and " + on_right + " on the right";
}

std::string joint_words(const Found& found, const Mend& mend, std::size_t joint) {
  std::string words = "Joint " + std::to_string(joint + 1) + ": face off, along the handle, ";
  bool first = true;
  for (const FacingOff& facing : mend.facings) {
    if (facing.joint != joint) continue;
    words += (first ? "" : "; ") + facing_words(found, facing);
    first = false;
  }
  std::vector<StripChange> changes;
  for (const StripChange& change : mend.strips)
    if (change.joint == joint) changes.push_back(change);
  return words + ". Put in a strip, " + strip_words(found, changes[0], changes[1]) + ".";
}

}  // namespace

std::optional<Mend> face_off_mend(const Found& found, std::string& problem) {
  std::vector<bool> shows(found.handle.left.joints.size(), false);
  for (const JointStep& step : found.steps)
    if (!step.hides()) shows[step.place.joint] = true;
  Mend mend{.kind = MendKind::face_off, .mended = found.design};
  const double slope = found.handle.left.surface.shape().base_slope;
  for (std::size_t j = 0; j < shows.size(); ++j) {
    if (!shows[j]) continue;
    const Facing facing(found, j);
    const JointLines lines = facing.lines();
    facing.add_facings(lines, mend.facings);
    const FilledJoint filled = fill_joint(mend.mended, j, lines, slope);
    if (!filled.edited) {
      problem = filled.edited.refusal() + ".";
      return std::nullopt;
    }
    mend.mended = *filled.edited;
    mend.strips.push_back(filled.left);
    mend.strips.push_back(filled.right);
    mend.words += (mend.words.empty() ? "" : " ") + joint_words(found, mend, j);
  }
  if (mend.strips.empty()) return std::nullopt;
  mend.words += " Face off more, the same all along, if your strip is thicker.";
  for (const JointStep& step : found.steps)
    if (!shows[step.place.joint]) mend.predicted_mm = std::max(mend.predicted_mm, std::abs(step.step_mm));
  const Laid laid = laid_out(mend.mended);
  if (!laid.handle) {
    problem = laid.problem;
    return std::nullopt;
  }
  const std::vector<JointStep> steps = steps_of(mend.mended, *laid.handle, found.known);
  mend.verified_mm = greatest_mm(steps);
  judge_outcome(steps, mend);
  mend.cautions.emplace_back(
      "Only while the pieces are still apart at the joint: sawing a glued one open takes a kerf more, and "
      "epoxy must have cured before it is sawn or sanded.");
  mend.cautions.emplace_back(
      "Keep the faced ends square to the inner face, and check them against each other. Extract the dust and "
      "wear a fitted mask.");
  add_failing_checks(found, *laid.handle, mend);
  return mend;
}

}  // namespace haftwright::alignment
