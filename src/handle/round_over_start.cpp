// Where the round-over starts, seen from a place on the surface.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "haftwright/handle/measures.hpp"
#include "numeric.hpp"

namespace haftwright {

using namespace layout;
namespace {

constexpr double kStep_mm = 2;
constexpr double kNone = std::numeric_limits<double>::infinity();

/// The line on which the round-over of one wall meets the crown, from one end of the wall to the other.
///
/// A wall is an edge of the outline, or a corner that turns into the material, round which the ball swings.
class Rim {
 public:
  /// `before` and `after`: how far the wall of the edge goes on past its ends, as a share of its length.
  Rim(const SideLayout& side, std::size_t edge, double before, double after)
      : side_(&side),
        edge_(&side.surface.edge().edges()[edge]),
        index_(edge),
        first_t_(-before),
        last_t_(1 + after) {}
  Rim(const SideLayout& side, Vec2 corner, Vec2 first, double turn)
      : side_(&side), corner_(corner), first_inward_(first), turn_(turn) {}

  double first_t() const { return first_t_; }
  double last_t() const { return last_t_; }
  /// On the wall at t.
  Vec2 wall(double t) const { return edge_ ? edge_->point(t) : corner_; }
  Vec2 inward(double t) const {
    if (edge_) return turned_left(edge_->direction(t));
    const double angle = turn_ * t;
    return {first_inward_.x * std::cos(angle) - first_inward_.y * std::sin(angle),
            first_inward_.x * std::sin(angle) + first_inward_.y * std::cos(angle)};
  }
  double reach_mm(double t) const {
    if (edge_) return side_->surface.round_over_reach_mm({0, wall(t), index_, t});
    return corner_reach_mm(inward(t));
  }
  Vec2 at(double t) const { return wall(t) + reach_mm(t) * inward(t); }

  /// A place of the rim at t; none where the front face has cut the rim away.
  std::optional<Vec2> left_at(double t) const {
    const Vec2 rim = at(t);
    return left_by_front(rim) ? std::optional(rim) : std::nullopt;
  }

  /// Where the wall's foot under a place lies, when it lies on the wall.
  std::optional<double> foot(Vec2 p) const {
    if (!edge_) return corner_foot(p);
    if (!edge_->is_arc()) {
      const Vec2 way = edge_->to - edge_->from;
      const double t = glm::dot(p - edge_->from, way) / glm::dot(way, way);
      return t >= first_t_ && t <= last_t_ ? std::optional(t) : std::nullopt;
    }
    const Vec2 start = edge_->from - edge_->centre;
    const Vec2 spoke = p - edge_->centre;
    double turn = std::atan2(spoke.y, spoke.x) - std::atan2(start.y, start.x);
    if (edge_->sweep < 0) turn = -turn;
    // Seen from the edge's middle, so that both ends have as much of the circle beyond them.
    const double half = std::abs(edge_->sweep) / 2;
    const double t = (std::remainder(turn - half, 2 * std::numbers::pi) + half) / std::abs(edge_->sweep);
    return t >= first_t_ && t <= last_t_ ? std::optional(t) : std::nullopt;
  }

  double length_mm() const {
    return edge_ ? edge_->length() * (last_t_ - first_t_)
                 : std::abs(turn_) * side_->surface.shape().round_over_mm;
  }

 private:
  bool left_by_front(Vec2 rim) const {
    // On the rim the surface is the crown still.
    const double s = side_->surface.crown_mm(rim) - side_->liner_total_mm;
    return side_->front.behind_mm(rim.x, rim.y, s) >= 0;
  }
  std::optional<double> corner_foot(Vec2 p) const {
    const Vec2 way = p - corner_;
    const double turn = std::atan2(cross(first_inward_, way), glm::dot(first_inward_, way));
    const double t = turn / turn_;
    return t >= 0 && t <= 1 ? std::optional(t) : std::nullopt;
  }
  /// As HeightField::round_over_reach_mm: where the ball that touches the corner touches the crown.
  double corner_reach_mm(Vec2 inward) const {
    const double r = side_->surface.shape().round_over_mm;
    double reach = r;
    for (int step = 0; step < 50; ++step) {
      const Vec2 p = corner_ + reach * inward;
      const Vec2 gradient = side_->surface.crown_gradient(p) + Vec2{side_->surface.shape().base_slope, 0};
      const Vec2 centre = p + gradient * (r / std::sqrt(1 + glm::dot(gradient, gradient)));
      const double off = r - glm::distance(centre, corner_);
      reach = std::clamp(reach + off, 0.0, 2 * r);
      if (std::abs(off) < 1e-9) break;
    }
    return reach;
  }

  const SideLayout* side_;
  const Edge* edge_ = nullptr;
  std::size_t index_ = 0;
  double first_t_ = 0;
  double last_t_ = 1;
  Vec2 corner_{0, 0};
  Vec2 first_inward_{0, 0};
  double turn_ = 0;
};

/// How the outline turns from one edge to the next; 0 for a smooth join.
double turn_after(const std::vector<Edge>& edges, std::size_t edge) {
  constexpr double kSmooth = 1e-7;  // radians
  const Vec2 in = edges[edge].direction(1);
  const Vec2 out = edges[(edge + 1) % edges.size()].direction(0);
  const double turn = std::atan2(cross(in, out), glm::dot(in, out));
  return std::abs(turn) < kSmooth ? 0 : turn;
}

/// How far a wall goes on past the end where it turns by `turn` into `next`: in a mitre into the next edge's
/// stretch, past an arc tighter than the ball to where the walls on both its sides would meet.
double goes_on_mm(const Edge& next, double turn, double round_over_mm) {
  const bool blunt = next.sweep > 0 && next.radius < round_over_mm;
  if (blunt && turn >= 0)
    return round_over_mm + next.radius * std::tan(std::min(next.sweep, std::numbers::pi / 2) / 2);
  return turn > 0 ? std::min(round_over_mm, next.length()) : 0;
}

std::vector<Rim> rims_of(const SideLayout& side) {
  std::vector<Rim> rims;
  const std::vector<Edge>& edges = side.surface.edge().edges();
  const double round_over = side.surface.shape().round_over_mm;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const std::size_t before = (i + edges.size() - 1) % edges.size();
    const double turn = turn_after(edges, i);
    const double length = edges[i].length();
    rims.emplace_back(side, i, goes_on_mm(edges[before], turn_after(edges, before), round_over) / length,
                      goes_on_mm(edges[(i + 1) % edges.size()], turn, round_over) / length);
    if (turn < 0) rims.emplace_back(side, edges[i].to, turned_left(edges[i].direction(1)), turn);
  }
  return rims;
}

/// How far a place lies within the round-over of a wall, as a land below 0.
void sink(const Rim& rim, Vec2 p, RoundOverStart& start) {
  const auto t = rim.foot(p);
  if (!t) return;
  const double depth = glm::dot(p - rim.wall(*t), rim.inward(*t));
  const double past = depth - rim.reach_mm(*t);
  if (depth >= 0 && past < 0 && past < start.distance_mm) start = {past, rim.at(*t), rim.wall(*t)};
}

/// A rim with its places at even steps along its wall, at most kStep_mm apart: worked out once for all from
/// which the rim is looked at.
class SteppedRim {
 public:
  explicit SteppedRim(Rim rim) : rim_(rim) {
    const auto count =
        std::max<std::size_t>(4, static_cast<std::size_t>(std::ceil(rim.length_mm() / kStep_mm)));
    for (std::size_t i = 0; i <= count; ++i) {
      const double t = rim.first_t() +
                       (rim.last_t() - rim.first_t()) * static_cast<double>(i) / static_cast<double>(count);
      steps_.push_back({t, rim.wall(t)});
    }
  }

  const Rim& rim() const { return rim_; }
  double wall_distance_mm(Vec2 p) const {
    double nearest = kNone;
    for (const Step& step : steps_) nearest = std::min(nearest, glm::distance(step.wall, p));
    return nearest;
  }
  /// The nearest place of the rim, when it is nearer than what was found. The round-over reaches in by at
  /// most `most_reach_mm`.
  void approach(Vec2 p, double most_reach_mm, RoundOverStart& start) {
    constexpr int kGolden = 30;
    const auto distance_to = [&](const std::optional<Vec2>& place) {
      return place ? glm::distance(*place, p) : kNone;
    };
    std::size_t nearest = 0;
    double least = kNone;
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      if (glm::distance(steps_[i].wall, p) - most_reach_mm > std::min(start.distance_mm, least)) continue;
      const double here = distance_to(place(steps_[i]));
      if (here < least) least = here, nearest = i;
    }
    // A rim runs on by little more than its wall between two steps.
    constexpr double kMayHide_mm = 3;
    if (least == kNone || least > start.distance_mm + kMayHide_mm) return;
    const double between = least_between(
        steps_[nearest == 0 ? 0 : nearest - 1].t, steps_[std::min(steps_.size() - 1, nearest + 1)].t,
        [&](double t) { return distance_to(rim_.left_at(t)); }, kGolden);
    for (const double t : {steps_[nearest].t, between})
      if (const double here = distance_to(rim_.left_at(t)); here < start.distance_mm)
        start = {here, rim_.at(t), rim_.wall(t)};
  }

 private:
  struct Step {
    double t = 0;
    Vec2 wall{0, 0};
    bool known = false;
    std::optional<Vec2> rim;
  };
  /// Worked out when first asked for: most of a long wall is far from every pin.
  const std::optional<Vec2>& place(Step& step) {
    if (!step.known) step.rim = rim_.left_at(step.t);
    step.known = true;
    return step.rim;
  }

  Rim rim_;
  std::vector<Step> steps_;
};

RoundOverStart nearest_start(std::vector<SteppedRim>& rims, double most_reach_mm, Vec2 p) {
  RoundOverStart start;
  start.distance_mm = 0;
  for (const SteppedRim& stepped : rims) sink(stepped.rim(), p, start);
  if (start.distance_mm < 0) return start;
  start.distance_mm = kNone;
  // Nearest walls first: what they find spares looking closely at the others.
  std::vector<std::pair<double, SteppedRim*>> walls;
  for (SteppedRim& rim : rims) walls.emplace_back(rim.wall_distance_mm(p), &rim);
  std::ranges::sort(walls, {}, &std::pair<double, SteppedRim*>::first);
  for (const auto& [distance, rim] : walls) {
    if (distance - most_reach_mm - kStep_mm > start.distance_mm) break;
    rim->approach(p, most_reach_mm + kStep_mm, start);
  }
  return start;
}

}  // namespace

std::vector<RoundOverStart> nearest_round_overs(const SideLayout& side, const std::vector<Vec2>& places) {
  std::vector<SteppedRim> rims;
  for (const Rim& rim : rims_of(side)) rims.emplace_back(rim);
  const double most_reach = 2 * side.surface.shape().round_over_mm;
  std::vector<RoundOverStart> starts;
  for (const Vec2 p : places) starts.push_back(nearest_start(rims, most_reach, p));
  return starts;
}

}  // namespace haftwright
