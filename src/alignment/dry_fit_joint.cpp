// One joint of one side: place, slant and stack from where its lines' ends are.
#include <algorithm>
#include <cmath>
#include <glm/matrix.hpp>
#include <numbers>

#include "dry_fit_parts.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

JointShape changed(JointShape shape, const glm::dvec3& by) {
  shape.place_mm += by.x;
  shape.tan_slant += by.y;
  shape.stack_mm += by.z;
  return shape;
}

/// How an end's x answers to place, slant and stack.
std::optional<glm::dvec3> answers(const SideLayout& side, const JointShape& shape, const LinePlace& place) {
  constexpr double kStep = 1e-5;
  glm::dvec3 row;
  for (int k = 0; k < 3; ++k) {
    glm::dvec3 step{0, 0, 0};
    step[k] = kStep;
    const auto after = end_x_mm(side, changed(shape, step), place.strip_edge, place.at);
    const auto before = end_x_mm(side, changed(shape, -step), place.strip_edge, place.at);
    if (!after || !before) return std::nullopt;
    row[k] = (*after - *before) / (2 * kStep);
  }
  return row;
}

/// Which of place, slant and stack the ends can tell.
std::array<bool, 3> told_by(std::span<const EndAt> ends) {
  const auto some = [&](auto is) { return std::ranges::any_of(ends, is); };
  const bool slant = some([](const EndAt& e) { return e.place.at == HandleEdge::spine; }) &&
                     some([](const EndAt& e) { return e.place.at == HandleEdge::belly; });
  const bool both_lines = some([](const EndAt& e) { return e.place.strip_edge == StripEdge::front; }) &&
                          some([](const EndAt& e) { return e.place.strip_edge == StripEdge::rear; });
  return {!ends.empty(), slant, both_lines && ends.size() >= (slant ? 3u : 2u)};
}

}  // namespace

Solved least_squares(std::span<const Equation> equations, const std::array<bool, 3>& free) {
  glm::dmat3 normal(0);
  glm::dvec3 right(0);
  for (const Equation& equation : equations)
    for (int i = 0; i < 3; ++i) {
      if (!free[static_cast<std::size_t>(i)]) continue;
      right[i] += equation.row[i] * equation.value / equation.variance;
      for (int j = 0; j < 3; ++j)
        if (free[static_cast<std::size_t>(j)])
          normal[i][j] += equation.row[i] * equation.row[j] / equation.variance;
    }
  for (int i = 0; i < 3; ++i)
    if (!free[static_cast<std::size_t>(i)]) normal[i][i] = 1;
  Solved solved;
  solved.covariance = glm::inverse(normal);
  solved.values = solved.covariance * right;
  for (int i = 0; i < 3; ++i)
    if (!free[static_cast<std::size_t>(i)]) solved.covariance[i][i] = 0;
  return solved;
}

CutPlane JointShape::plane(StripEdge edge, double base_slope) const {
  CutPlane plane{place_mm, tan_slant, tan_rake};
  plane.x0_mm += (edge == StripEdge::front ? -0.5 : 0.5) * stack_mm * plane.x0_per_mm(base_slope);
  return plane;
}

double stack_mm(const Joint& joint) {
  double stack = 0;
  for (const Sheet& strip : joint.spacers) stack += strip.thickness_mm;
  return stack;
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

JointShape moved(const JointShape& shape, const Pose& pose) {
  const double c = std::cos(pose.turn_rad), s = std::sin(pose.turn_rad);
  JointShape after = shape;
  const double stretch = c + s * shape.tan_slant;
  after.tan_slant = (c * shape.tan_slant - s) / stretch;
  after.tan_rake = shape.tan_rake / stretch;
  const Vec2 on_axis = Vec2{c, s} * shape.place_mm + pose.shift_mm;
  after.place_mm = on_axis.x - on_axis.y * after.tan_slant;
  return after;
}

std::optional<double> end_x_mm(const SideLayout& side, const JointShape& shape, StripEdge strip_edge,
                               HandleEdge at) {
  const CutPlane plane = shape.plane(strip_edge, side.surface.shape().base_slope);
  if (!std::isfinite(plane.x0_mm) || !std::isfinite(plane.tan_slant)) return std::nullopt;
  const std::vector<Crossing> places = crossings(side.edge, {plane.x0_mm, 0}, {plane.tan_slant, 1});
  if (places.size() < 2) return std::nullopt;
  return (at == HandleEdge::spine ? places.back() : places.front()).point.x;
}

std::optional<FittedJoint> fit_joint(const SideLayout& side, const JointShape& start,
                                     std::span<const EndAt> ends) {
  constexpr int kMostSteps = 20;
  constexpr double kLastStep = 1e-12;
  const std::array<bool, 3> free = told_by(ends);
  FittedJoint fitted{.shape = start, .slant_was_read = free[1]};
  std::vector<Equation> equations(ends.size());
  Solved solved;
  for (int step = 0; step < kMostSteps; ++step) {
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const auto x = end_x_mm(side, fitted.shape, ends[i].place.strip_edge, ends[i].place.at);
      const auto row = answers(side, fitted.shape, ends[i].place);
      if (!x || !row) return std::nullopt;
      equations[i] = {*row, ends[i].x_mm - *x, ends[i].variance};
    }
    solved = least_squares(equations, free);
    fitted.shape = changed(fitted.shape, solved.values);
    if (glm::length(solved.values) < kLastStep) break;
  }
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const auto x = end_x_mm(side, fitted.shape, ends[i].place.strip_edge, ends[i].place.at);
    if (!x) return std::nullopt;
    fitted.x_mm.push_back(*x);
    const double off = ends[i].x_mm - *x;
    fitted.chi_square += off * off / ends[i].variance;
    fitted.variances.push_back(glm::dot(equations[i].row, solved.covariance * equations[i].row));
  }
  const auto sought = static_cast<std::size_t>(std::ranges::count(free, true));
  fitted.freedom = ends.size() > sought ? ends.size() - sought : 0;
  const double to_angle = 1 / (1 + fitted.shape.tan_slant * fitted.shape.tan_slant);
  fitted.slant_variance = solved.covariance[1][1] * to_angle * to_angle;
  return fitted;
}

}  // namespace haftwright::alignment
