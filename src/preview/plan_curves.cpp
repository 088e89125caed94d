#include "plan_curves.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace haftwright::preview {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr int kLeastHolePoints = 16;

double chord_angle(double radius, double deviation) {
  return 2 * std::acos(std::max(0.0, 1 - deviation / radius));
}

double step_mm(const Edge& curve, const Spacing& spacing) {
  if (!curve.is_arc()) return spacing.most_mm;
  return std::min(spacing.most_mm, curve.radius * chord_angle(curve.radius, spacing.deviation_mm));
}

Bounds box_of(const Edge& curve) {
  Bounds box{glm::min(curve.from, curve.to), glm::max(curve.from, curve.to)};
  if (curve.is_arc()) {
    // The whole circle: only used to leave out what is far away.
    box = {curve.centre - Vec2(curve.radius), curve.centre + Vec2(curve.radius)};
  }
  return box;
}

bool overlap(const Bounds& a, const Bounds& b) {
  return a.low.x <= b.high.x && b.low.x <= a.high.x && a.low.y <= b.high.y && b.low.y <= a.high.y;
}

/// Up to two points common to the endless line or full circle of each curve.
struct Common {
  std::array<Vec2, 2> at;
  int count = 0;
};

Common on_circle(Vec2 middle, Vec2 along, double square) {
  if (square < 0) return {};
  const Vec2 reach = along * std::sqrt(square);
  return {{middle - reach, middle + reach}, 2};
}

Common line_and_circle(const Edge& line, const Edge& arc) {
  const Vec2 along = glm::normalize(line.to - line.from);
  const Vec2 foot = line.from + along * glm::dot(arc.centre - line.from, along);
  const Vec2 off = foot - arc.centre;
  return on_circle(foot, along, arc.radius * arc.radius - glm::dot(off, off));
}

Common circle_and_circle(const Edge& a, const Edge& b) {
  // From the smaller circle: its places are known to more digits than those of an almost straight arc.
  if (a.radius > b.radius) return circle_and_circle(b, a);
  const Vec2 between = b.centre - a.centre;
  const double square = glm::dot(between, between);
  if (square == 0) return {};
  const double share = (square + a.radius * a.radius - b.radius * b.radius) / (2 * square);
  const Vec2 along = turned_left(between) / std::sqrt(square);
  return on_circle(a.centre + between * share, along, a.radius * a.radius - share * share * square);
}

Common line_and_line(const Edge& a, const Edge& b) {
  const Vec2 along = a.to - a.from;
  const Vec2 other = b.to - b.from;
  const double turn = cross(along, other);
  if (turn == 0) return {};
  return {{a.from + along * (cross(b.from - a.from, other) / turn), Vec2{0, 0}}, 1};
}

Common common_points(const Edge& a, const Edge& b) {
  if (a.is_arc() && b.is_arc()) return circle_and_circle(a, b);
  if (a.is_arc()) return line_and_circle(b, a);
  if (b.is_arc()) return line_and_circle(a, b);
  return line_and_line(a, b);
}

}  // namespace

std::optional<double> place_on(const Edge& curve, Vec2 p) {
  double t = 0;
  if (curve.is_arc()) {
    const Vec2 start = curve.from - curve.centre;
    const Vec2 spoke = p - curve.centre;
    double angle = std::atan2(cross(start, spoke), glm::dot(start, spoke));
    if (curve.sweep > 0 && angle < 0) angle += kTurn;
    if (curve.sweep < 0 && angle > 0) angle -= kTurn;
    t = angle / curve.sweep;
  } else {
    const Vec2 along = curve.to - curve.from;
    t = glm::dot(p - curve.from, along) / glm::dot(along, along);
  }
  if (!(t >= 0 && t <= 1)) return std::nullopt;
  return t;
}

Vec2 right_of(const Edge& curve, Vec2 p) {
  if (!curve.is_arc()) return -turned_left(glm::normalize(curve.to - curve.from));
  const Vec2 spoke = glm::normalize(p - curve.centre);
  return curve.sweep > 0 ? spoke : -spoke;
}

void PlanCurves::clear() {
  curves_.clear();
  boxes_.clear();
  loops_.clear();
  wanted_.clear();
  samples_.clear();
}

void PlanCurves::close_loop(const Spacing& spacing, std::size_t first_curve, const Bounds& bounds) {
  for (std::size_t i = first_curve; i < curves_.size(); ++i) boxes_.push_back(box_of(curves_[i]));
  loops_.push_back({first_curve, curves_.size(), 0, 0, spacing, bounds});
}

std::size_t PlanCurves::add(const Outline& outline, const Spacing& spacing) {
  const std::size_t first = curves_.size();
  curves_.insert(curves_.end(), outline.edges().begin(), outline.edges().end());
  close_loop(spacing, first, outline.bounds());
  return first;
}

void PlanCurves::add(const RoundHole& hole, const Spacing& spacing) {
  const std::size_t first = curves_.size();
  const Vec2 reach{hole.radius_mm, 0};
  curves_.emplace_back(hole.centre + reach, hole.centre - reach, 1.0);
  curves_.emplace_back(hole.centre - reach, hole.centre + reach, 1.0);
  Spacing round = spacing;
  round.most_mm = std::min(round.most_mm, kTurn / kLeastHolePoints * hole.radius_mm);
  close_loop(round, first, {hole.centre - Vec2(hole.radius_mm), hole.centre + Vec2(hole.radius_mm)});
}

void PlanCurves::want(std::size_t curve, double t) {
  wanted_.push_back({curve, t, curves_[curve].point(t)});
}

Bounds PlanCurves::bounds() const {
  Bounds all = loops_.front().bounds;
  for (const Loop& loop : loops_) {
    all.low = glm::min(all.low, loop.bounds.low);
    all.high = glm::max(all.high, loop.bounds.high);
  }
  return all;
}

void PlanCurves::cross(std::size_t a, std::size_t b) {
  if (!overlap(boxes_[a], boxes_[b])) return;
  const Common common = common_points(curves_[a], curves_[b]);
  for (int i = 0; i < common.count; ++i) {
    const Vec2 p = common.at[static_cast<std::size_t>(i)];
    const auto on_a = place_on(curves_[a], p);
    const auto on_b = place_on(curves_[b], p);
    if (!on_a || !on_b) continue;
    wanted_.push_back({a, *on_a, p});
    wanted_.push_back({b, *on_b, p});
  }
}

void PlanCurves::find_crossings() {
  for (std::size_t i = 0; i < loops_.size(); ++i)
    for (std::size_t j = i + 1; j < loops_.size(); ++j) {
      if (!overlap(loops_[i].bounds, loops_[j].bounds)) continue;
      for (std::size_t a = loops_[i].first_curve; a < loops_[i].end_curve; ++a)
        if (overlap(boxes_[a], loops_[j].bounds))
          for (std::size_t b = loops_[j].first_curve; b < loops_[j].end_curve; ++b) cross(a, b);
    }
}

/// Points from the curve's start up to, not including, its end: the wanted ones, and between them as many as
/// the spacing asks for.
void PlanCurves::sample_curve(std::size_t curve, const Spacing& spacing) {
  const Edge& edge = curves_[curve];
  const auto [first, last] =
      std::equal_range(wanted_.begin(), wanted_.end(), Wanted{curve},
                       [](const Wanted& a, const Wanted& b) { return a.curve < b.curve; });
  const double length = edge.length();
  const double step = step_mm(edge, spacing);
  double from = 0;
  Vec2 at = edge.from;
  auto next = first;
  while (from < 1) {
    const double to = next == last ? 1 : next->t;
    if (to > from) {
      const double parts = std::max(1.0, std::ceil((to - from) * length / step - 1e-9));
      samples_.push_back({at, curve, from});
      for (int k = 1; k < parts; ++k) {
        const double t = from + (to - from) * k / parts;
        samples_.push_back({edge.point(t), curve, t});
      }
    }
    if (next == last) return;
    from = next->t;
    at = next->at;
    ++next;
  }
}

void PlanCurves::sample() {
  find_crossings();
  std::sort(wanted_.begin(), wanted_.end(), [](const Wanted& a, const Wanted& b) {
    return a.curve != b.curve ? a.curve < b.curve : a.t < b.t;
  });
  for (Loop& loop : loops_) {
    loop.first_sample = samples_.size();
    for (std::size_t curve = loop.first_curve; curve < loop.end_curve; ++curve)
      sample_curve(curve, loop.spacing);
    loop.end_sample = samples_.size();
  }
}

}  // namespace haftwright::preview
