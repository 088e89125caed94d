// The one motion of the right scale that explains the steps best.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "dry_fit_parts.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;
constexpr double kTwoDeviations = 2;

const LineEnd& end_of(const JointLine& line, HandleEdge at) {
  return at == HandleEdge::spine ? line.spine : line.belly;
}

const LineEnd& end_of(const SideLayout& side, const LinePlace& place) {
  const auto& lines = side.joints[place.joint].lines;
  return end_of(place.strip_edge == StripEdge::front ? lines.front() : lines.back(), place.at);
}

/// A turn about `about`, which itself is shifted, as a turn about the origin and a shift.
Pose turned_about(Vec2 about, Vec2 shift, double radians) {
  const double c = std::cos(radians), s = std::sin(radians);
  return {about + shift - Vec2{c * about.x - s * about.y, s * about.x + c * about.y}, radians};
}

class Motion {
 public:
  Motion(const Design& design, const Handle& handle, std::span<const ReadEnd> ends)
      : design_(design), handle_(handle), ends_(ends), joints_(design.right_side().joints) {
    for (const ReadEnd& end : ends_) about_ += middle(end.place) / static_cast<double>(ends_.size());
  }

  RigidFit fit() {
    const bool turn = turn_is_told();
    const bool across = turn && across_is_told();
    const Solved solved = solve({true, turn, across});
    const auto within = [&](int k) { return kTwoDeviations * std::sqrt(solved.covariance[k][k]); };
    RigidFit made;
    made.about_mm = about_;
    made.pose = pose_of(solved.values);
    made.shift_mm = {solved.values[0], within(0)};
    made.turn_deg = {solved.values[1] * kDegrees, within(1) * kDegrees};
    if (across) made.across_mm = {solved.values[2], within(2)};
    return made;
  }

 private:
  Vec2 middle(const LinePlace& place) const {
    const Vec3 at = end_of(handle_.right, place).inner;
    return {at.x, at.y};
  }

  /// Unknowns are shift along, turn, shift across.
  Pose pose_of(const glm::dvec3& unknowns) const {
    return turned_about(about_, {unknowns[0], unknowns[2]}, unknowns[1]);
  }

  /// What the unknowns do to a step, at the start.
  glm::dvec3 row(const LinePlace& place) const {
    constexpr double kStep = 1e-5;
    glm::dvec3 made;
    for (int k = 0; k < 3; ++k) {
      glm::dvec3 by{0, 0, 0};
      by[k] = kStep;
      made[k] = (step_mm(place, pose_of(by)) - step_mm(place, pose_of(-by))) / (2 * kStep);
    }
    return made;
  }

  double step_mm(const LinePlace& place, const Pose& pose) const {
    const auto x =
        end_x_mm(handle_.right, carried(shape_of(joints_[place.joint]), pose), place.strip_edge, place.at);
    return end_of(handle_.left, place).inner.x - x.value_or(end_of(handle_.right, place).inner.x);
  }

  /// Ends so far from the turn's centre, as seen along x, that a turn shows beside a shift.
  bool turn_is_told() const {
    constexpr double kLeastLeverMm = 2;
    double squares = 0, products = 0, levers = 0;
    for (const ReadEnd& end : ends_) {
      const glm::dvec3 by = row(end.place);
      squares += by[0] * by[0];
      products += by[0] * by[1];
      levers += by[1] * by[1];
    }
    const double left = std::max(0.0, levers - products * products / squares);
    return std::sqrt(left / static_cast<double>(ends_.size())) >= kLeastLeverMm;
  }

  /// Lines of different slants that tell more than what the shop's own error already says.
  bool across_is_told() const {
    std::vector<Equation> equations;
    for (const ReadEnd& end : ends_) equations.push_back({row(end.place), 0, end.step_variance});
    const double variance = least_squares(equations, {true, true, true}).covariance[2][2];
    // Lines all of one slant make it endless, or nonsense of either sign.
    return variance > 0 && kTwoDeviations * std::sqrt(variance) <= design_.drilling.errors.set_across_mm;
  }

  Solved solve(const std::array<bool, 3>& free) const {
    constexpr int kMostSteps = 12;
    constexpr double kLastStep = 1e-13;
    constexpr double kSettled = 1e-6;
    glm::dvec3 unknowns{0, 0, 0};
    std::vector<Equation> equations;
    for (const ReadEnd& end : ends_) equations.push_back({row(end.place), 0, end.step_variance});
    Solved first, solved;
    for (int step = 0; step < kMostSteps; ++step) {
      for (std::size_t i = 0; i < ends_.size(); ++i)
        equations[i].value = ends_[i].step_mm - step_mm(ends_[i].place, pose_of(unknowns));
      solved = least_squares(equations, free);
      unknowns += solved.values;
      if (step == 0) first = solved;
      if (glm::length(solved.values) < kLastStep) break;
    }
    // Readings far off any small motion do not settle; the first answer then shows how far off they are.
    if (!(glm::length(solved.values) < kSettled)) return first;
    solved.values = unknowns;
    return solved;
  }

  const Design& design_;
  const Handle& handle_;
  std::span<const ReadEnd> ends_;
  std::vector<Joint> joints_;
  Vec2 about_{0, 0};
};

}  // namespace

RigidFit fit_motion(const Design& design, const Handle& handle, std::span<const ReadEnd> ends) {
  return Motion(design, handle, ends).fit();
}

}  // namespace haftwright::alignment
