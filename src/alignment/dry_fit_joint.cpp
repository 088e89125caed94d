// One joint of one side: place, slant and stack from where its lines' ends are.
#include <algorithm>
#include <cmath>
#include <glm/matrix.hpp>

#include "dry_fit_parts.hpp"
#include "haftwright/geometry/outline_ops.hpp"

namespace haftwright::alignment {
namespace {

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
