#include "haftwright/alignment/dry_fit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "haftwright/edits/corrections.hpp"
#include "mends.hpp"
#include "pin_holes.hpp"

namespace haftwright {
namespace {

using namespace alignment;

constexpr double kDegrees = 180 / std::numbers::pi;
constexpr double kTwoDeviations = 2;

double within(double variance) {
  return kTwoDeviations * std::sqrt(variance);
}

std::vector<ReadEnd> ends_at(const Readings& readings, std::size_t joint) {
  std::vector<ReadEnd> ends;
  for (const ReadEnd& end : readings.ends)
    if (end.place.joint == joint) ends.push_back(end);
  return ends;
}

/// A joint that was read, brought to where it was found on both sides.
struct FoundJoint {
  FittedJoint left;
  FittedJoint right;
  std::vector<ReadEnd> ends;  ///< adjusted
};

class Fit {
 public:
  Fit(const Design& design, const Handle& handle) : design_(design), handle_(handle) {}

  std::optional<DryFit> read() {
    readings_ = gather_readings(design_, handle_);
    if (readings_.ends.empty()) return std::nullopt;
    fit_.unused = readings_.unused;
    take_motion();
    if (find_joints()) {
      add_lines();
      add_rest();
      fit_.problem = contradiction();
      if (fit_.problem.empty()) add_mends();
    }
    add_notes();
    return std::move(fit_);
  }

 private:
  void take_motion() {
    const RigidFit rigid = fit_motion(design_, handle_, readings_.ends);
    fit_.right_by = rigid.pose;
    fit_.about_mm = rigid.about_mm;
    fit_.shift_mm = rigid.shift_mm;
    fit_.turn_deg = rigid.turn_deg;
    fit_.across_mm = rigid.across_mm;
  }

  /// False when a joint's lines would miss the handle; fit_.problem then says so.
  bool find_joints() {
    fit_.as_found = design_;
    std::vector<Joint> right = design_.right_side().joints;
    for (std::size_t j = 0; j < right.size(); ++j) {
      const JointShape start = carried(shape_of(right[j]), fit_.right_by);
      const std::vector<ReadEnd> ends = ends_at(readings_, j);
      if (ends.empty()) {
        give_shape(right[j], start);
        continue;
      }
      const auto joint = find_joint(fit_.as_found.left.joints[j], start, ends);
      if (!joint) {
        fit_.problem = "Where joint " + std::to_string(j + 1) +
                       " was read it would miss the handle. Look its readings over and read it again.";
        return false;
      }
      give_shape(fit_.as_found.left.joints[j], joint->left.shape);
      give_shape(right[j], joint->right.shape);
      joints_.push_back(*joint);
    }
    fit_.as_found.right.joints = right;
    return true;
  }

  std::optional<FoundJoint> find_joint(const Joint& left_start, const JointShape& right_start,
                                       const std::vector<ReadEnd>& ends) const {
    std::vector<EndAt> at;
    for (const ReadEnd& end : ends)
      if (end.left_mm) at.push_back({end.place, *end.left_mm, end.left_variance});
    const auto left = fit_joint(handle_.left, shape_of(left_start), at);
    if (!left) return std::nullopt;
    std::vector<double> left_mm;
    at.clear();
    for (const ReadEnd& end : ends) {
      const auto x = end_x_mm(handle_.left, left->shape, end.place.strip_edge, end.place.at);
      if (!x) return std::nullopt;
      left_mm.push_back(*x);
      at.push_back({end.place, *x - end.step_mm, end.step_variance});
    }
    const auto right = fit_joint(handle_.right, right_start, at);
    if (!right) return std::nullopt;
    FoundJoint found{*left, *right, ends};
    for (std::size_t i = 0; i < ends.size(); ++i) {
      found.ends[i].step_mm = left_mm[i] - right->x_mm[i];
      found.ends[i].step_variance = right->variances[i];
    }
    return found;
  }

  void add_lines() {
    for (const FoundJoint& joint : joints_)
      for (const ReadEnd& end : joint.ends) {
        const LinePlace& place = end.place;
        if (fit_.lines.empty() || fit_.lines.back().joint != place.joint ||
            fit_.lines.back().strip_edge != place.strip_edge)
          fit_.lines.push_back({.joint = place.joint, .strip_edge = place.strip_edge});
        FoundLine& line = fit_.lines.back();
        (place.at == HandleEdge::spine ? line.spine_mm : line.belly_mm) = {end.step_mm,
                                                                           within(end.step_variance)};
        fit_.worst_mm = std::max(fit_.worst_mm, std::abs(end.step_mm));
        if (line.spine_mm && line.belly_mm) {
          const double turn = std::atan(joint.left.shape.tan_slant) - std::atan(joint.right.shape.tan_slant);
          line.turn_deg = {turn * kDegrees, within(joint.right.slant_variance) * kDegrees};
        }
      }
  }

  /// Readings that their accuracy does not reconcile: of one end among each other, or of the ends of one
  /// joint.
  std::string contradiction() const {
    if (!readings_.contradiction.empty()) return readings_.contradiction;
    for (const FoundJoint& joint : joints_)
      for (const FittedJoint* side : {&joint.left, &joint.right})
        if (beyond_chance(side->chi_square, side->freedom))
          return "The ends of joint " + std::to_string(joint.ends.front().place.joint + 1) + " on the " +
                 (side == &joint.left ? "left" : "right") +
                 " were read where no straight strips can have them. Read them again before anything is "
                 "done.";
    return {};
  }

  void add_rest() {
    const std::vector<Joint> designed = design_.right_side().joints;
    for (const FoundJoint& joint : joints_)
      for (std::size_t i = 0; i < joint.ends.size(); ++i) {
        const LinePlace& place = joint.ends[i].place;
        const JointShape after = carried(shape_of(designed[place.joint]), fit_.right_by);
        const auto left =
            end_x_mm(handle_.left, shape_of(design_.left.joints[place.joint]), place.strip_edge, place.at);
        const auto right = end_x_mm(handle_.right, after, place.strip_edge, place.at);
        if (left && right)
          fit_.rest_mm = std::max(fit_.rest_mm, std::abs(joint.ends[i].step_mm - (*left - *right)));
      }
  }

  void add_mends() {
    const Laid laid = laid_out(fit_.as_found);
    if (!laid.handle) {
      fit_.problem = "The handle can't be laid out as it was read: " + laid.problem +
                     " Look the readings over and read again what is far off.";
      return;
    }
    KnownEnds known;
    for (const FoundJoint& joint : joints_)
      for (const ReadEnd& end : joint.ends) known.emplace(end.place, within(end.step_variance));
    const Found found{fit_.as_found, *laid.handle, known, steps_of(fit_.as_found, *laid.handle, known)};
    fit_.mends = mends_for(found, fit_.clearance_is_enough, fit_.taken);
    fit_.decide = decide_words(found, fit_.mends);
    for (Mend& mend : fit_.mends) {
      if (!design_.right.joints) mend.mended = *link_equal_joints(mend.mended);
      if (cuts_wood(mend.kind)) add_reading_caution(mend);
    }
  }

  void add_reading_caution(Mend& mend) const {
    for (const FoundJoint& joint : joints_)
      for (const ReadEnd& end : joint.ends)
        if (!end.confirmed) {
          mend.cautions.insert(mend.cautions.begin(),
                               "Before you cut, read every end a second time and put it in: one slip of the "
                               "caliper is not seen in readings taken once.");
          return;
        }
  }

  void add_notes() {
    std::vector<std::string>& notes = fit_.taken;
    if (readings_.from_front)
      notes.emplace_back(
          "Readings from the front face take the two front faces to be flush, or apart as designed: check "
          "that with a straightedge.");
    if (readings_.from_pin)
      notes.emplace_back(
          "Readings from a pin take it to stand square to the tang, so that both sides read "
          "from the same place.");
    double widest = 0;
    for (const FoundLine& line : fit_.lines)
      for (const auto& step : {line.spine_mm, line.belly_mm})
        if (step) widest = std::max(widest, step->within);
    if (widest > 0)
      notes.push_back("The steps are known to within " + amount(widest, design_) +
                      ", in 95 of 100 cases; what a correction leaves is known no better.");
    if (!design_.pins.empty())
      notes.emplace_back(
          "The pins are taken to have stood in the middle of their holes while it was read, and "
          "to give way in the holes of both scales.");
    if (std::ranges::any_of(design_.pins, [&](const Pin& pin) {
          return !hole_range(tighter_hole(handle_, pin, Which::left)).measured ||
                 !hole_range(tighter_hole(handle_, pin, Which::right)).measured;
        }))
      notes.emplace_back(
          "Holes that were not measured are taken to be no larger than their drill: measure them, and there "
          "may be more room.");
    for (std::size_t j = 0; j < handle_.right.joints.size(); ++j)
      if (ends_at(readings_, j).empty())
        notes.push_back(
            "Joint " + std::to_string(j + 1) +
            " was not read on both sides: until it is, it is taken to be off as the right scale as a whole "
            "is, and nobody knows what shows there.");
  }

  const Design& design_;
  const Handle& handle_;
  Readings readings_;
  std::vector<FoundJoint> joints_;
  DryFit fit_;
};

}  // namespace

std::optional<DryFit> read_dry_fit(const Design& design, const Handle& handle) {
  return Fit(design, handle).read();
}

bool cuts_wood(MendKind kind) {
  return kind == MendKind::open_holes || kind == MendKind::next_pins || kind == MendKind::face_off;
}

std::string clearance_words(const DryFit& fit) {
  if (!fit.problem.empty()) return {};
  if (fit.clearance_is_enough) return "The pins' clearance is enough to hide every step.";
  if (!fit.decide.empty())
    return "Whether the pins' clearance is enough to hide every step is not known yet.";
  return "The pins' clearance is not enough to be sure that every step is hidden.";
}

std::vector<UnusedReading> unused_readings(const Design& design, const Handle& handle) {
  return gather_readings(design, handle).unused;
}

}  // namespace haftwright
