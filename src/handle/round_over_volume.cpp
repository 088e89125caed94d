#include "round_over_volume.hpp"

#include <numbers>

#include "numeric.hpp"

namespace haftwright::layout {
namespace {

constexpr double kLongestStretch_mm = 12;
constexpr double kWidestStretch = 0.8;  // radians along an arc
/// Corners that turn by less are followed as if they were smooth.
constexpr double kCorner = 0.05;
/// A point this much nearer to another edge belongs to that one.
constexpr double kNearer_mm = 1e-7;

double turn_between(const Edge& before, const Edge& after) {
  const Vec2 in = before.direction(1);
  const Vec2 out = after.direction(0);
  return std::atan2(cross(in, out), glm::dot(in, out));
}

}  // namespace

bool RoundOverStrip::Between::holds(Vec2 p) const {
  return front.behind_mm(p.x, p.y, 0) > 0 && !(rear && rear->behind_mm(p.x, p.y, 0) >= 0);
}

RoundOverStrip::RoundOverStrip(const ScaleBody& body, std::size_t edge) : body_(&body) {
  const std::vector<Edge>& edges = body.edge().edges();
  edge_ = &edges[edge];
  length_ = edge_->length();
  from_turn_ = turn_between(edges[(edge + edges.size() - 1) % edges.size()], *edge_);
  for (int i = 0; i < 3; ++i) {
    Nearest at;
    at.point = edge_->point(i / 2.0);
    at.edge = edge;
    reach_[i] = body.surface.round_over_reach_mm(at);
  }
  add_bisectors(edge, -1, from_limits_);
  add_bisectors(edge, +1, to_limits_);
}

/// Walks on along the outline from one end of the edge. Where a later edge has turned, its tangent and that
/// of this edge meet in a corner, and both strips end on the bisector. A rounded corner counts like a sharp
/// one; with a larger radius than the round-over's reach the bisector limits nothing.
void RoundOverStrip::add_bisectors(std::size_t edge, int step, std::vector<Bisector>& found) const {
  const std::vector<Edge>& edges = body_->edge().edges();
  const Vec2 end = step > 0 ? edge_->to : edge_->from;
  const Vec2 along = edge_->direction(step > 0 ? 1 : 0) * static_cast<double>(step);
  const double reach = std::max({reach_[0], reach_[1], reach_[2]});
  double turn = 0;
  for (std::size_t i = 1; i < edges.size(); ++i) {
    const std::size_t last = (step > 0 ? edge + i - 1 : edge + edges.size() - i + 1) % edges.size();
    const std::size_t next = (step > 0 ? edge + i : edge + edges.size() - i) % edges.size();
    turn += step > 0 ? turn_between(edges[last], edges[next]) : turn_between(edges[next], edges[last]);
    turn += edges[next].sweep;
    const Vec2 far_end = step > 0 ? edges[next].to : edges[next].from;
    const Vec2 far_along = edges[next].direction(step > 0 ? 1 : 0);
    if (turn > kCorner && turn < std::numbers::pi) {
      const double beyond = cross(far_end - end, far_along) / cross(along, far_along);
      const double slope = 1 / std::tan(turn / 2);
      if (beyond > -kNearer_mm && beyond * slope < reach) found.push_back({std::max(0.0, beyond), slope});
    }
    const bool straight_enough = !edge_->is_arc() || edge_->radius > 4 * reach;
    if (!straight_enough || glm::distance(far_end, end) > 2 * reach) break;
  }
}

double RoundOverStrip::volume_mm3(const Between& between) const {
  if (!may_meet(between)) return 0;
  double sum = round_reflex_corner(between);
  for (const QuadratureNode& node : kGauss5) {
    // Square in from the wall the surface rises like a square root: u = v^2 makes it smooth.
    const double share = node.at * node.at;
    const std::vector<double> stops = stops_at(share, between);
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      const double middle = (stops[i] + stops[i + 1]) / 2;
      if (stops[i + 1] > stops[i] && between.holds(place(middle, share * width(middle))))
        sum += 2 * node.at * node.weight * along(stops[i], stops[i + 1], share);
    }
  }
  return sum;
}

/// False when a plane has the whole strip on its wrong side.
bool RoundOverStrip::may_meet(const Between& between) const {
  const Vec2 middle = edge_->point(0.5);
  const double farthest = length_ / 2 + 2 * body_->surface.shape().round_over_mm;
  const auto past = [&](const CutPlane& plane, double sign) {
    return sign * plane.behind_mm(middle.x, middle.y, 0) > farthest * std::hypot(1, plane.tan_slant);
  };
  return !past(between.front, -1) && !(between.rear && past(*between.rear, 1));
}

Vec2 RoundOverStrip::place(double t, double depth) const {
  const Vec2 p = edge_->point(t);
  return p + depth * inward_normal(*edge_, p);
}

/// How far in the strip goes at t: the round-over's reach, the arc's centre, the bisector of a corner. The
/// reach need not be exact, since the surface leaves the crown there without a bend.
double RoundOverStrip::width(double t) const {
  double width =
      reach_[0] * (1 - t) * (1 - 2 * t) + reach_[1] * 4 * t * (1 - t) + reach_[2] * t * (2 * t - 1);
  if (edge_->sweep > 0) width = std::min(width, edge_->radius);
  for (const Bisector& limit : from_limits_)
    width = std::min(width, (t * length_ + limit.beyond_mm) * limit.slope);
  for (const Bisector& limit : to_limits_)
    width = std::min(width, ((1 - t) * length_ + limit.beyond_mm) * limit.slope);
  return width;
}

/// Length at a depth over length on the edge.
double RoundOverStrip::shrink(double depth) const {
  return edge_->is_arc() ? 1 - std::copysign(depth / edge_->radius, edge_->sweep) : 1;
}

/// Ends of the stretches over which to integrate at a share of the width: corners and planes.
std::vector<double> RoundOverStrip::stops_at(double share, const Between& between) const {
  std::vector<double> stops{0, 1};
  const auto freed = [&](double reach, const Bisector& limit) {
    return std::clamp((reach / limit.slope - limit.beyond_mm) / length_, 0.0, 1.0);
  };
  for (const Bisector& limit : from_limits_) stops.push_back(freed(reach_[0], limit));
  for (const Bisector& limit : to_limits_) stops.push_back(1 - freed(reach_[2], limit));
  for (const CutPlane* plane : {&between.front, between.rear ? &*between.rear : nullptr}) {
    if (!plane) continue;
    // The width changes little along an edge: that at a first crossing gives the true one.
    for (const double rough : edge_crossings(*edge_, *plane, 0, share * width(0.5))) {
      double exact = rough;
      double least = 1;
      for (const double t : edge_crossings(*edge_, *plane, 0, share * width(rough)))
        if (std::abs(t - rough) < least) least = std::abs(t - rough), exact = t;
      stops.push_back(exact);
    }
  }
  std::ranges::sort(stops);
  return stops;
}

double RoundOverStrip::along(double from, double to, double share) const {
  const double most = std::max(length_ / kLongestStretch_mm, std::abs(edge_->sweep) / kWidestStretch);
  const double pieces = std::ceil((to - from) * most);
  double sum = 0;
  for (double i = 0; i < pieces; ++i)
    sum += integrate(kGauss5, from + (to - from) * i / pieces, from + (to - from) * (i + 1) / pieces,
                     [&](double t) { return rate(t, share); });
  return sum;
}

/// Volume taken away per step of t and of the share of the width.
double RoundOverStrip::rate(double t, double share) const {
  const double width_here = width(t);
  const double depth = share * width_here;
  const Vec2 p = place(t, depth);
  const HeightField::Sample sample = body_->surface.sample(p);
  if (sample.edge_distance_mm < depth - kNearer_mm) return 0;
  return (body_->surface.crown_mm(p) - sample.height_mm) * length_ * shrink(depth) * width_here;
}

/// Where the edge starts in a corner that turns into the material, the round-over swings round the corner.
double RoundOverStrip::round_reflex_corner(const Between& between) const {
  if (from_turn_ > -1e-6) return 0;
  const Vec2 last = turned_left(edge_->direction(0));
  const double to = std::atan2(last.y, last.x);
  return -integrate(kGauss3, to - from_turn_, to, [&](double angle) {
    return integrate_from_root(kGauss5, 0, reach_[0], [&](double depth) {
      const Vec2 p = edge_->from + depth * Vec2{std::cos(angle), std::sin(angle)};
      const HeightField::Sample sample = body_->surface.sample(p);
      if (sample.edge_distance_mm < depth - kNearer_mm || !between.holds(p)) return 0.0;
      return depth * (body_->surface.crown_mm(p) - sample.height_mm);
    });
  });
}

RoundOverVolume::RoundOverVolume(const ScaleBody& body) {
  if (body.surface.shape().round_over_mm == 0) return;
  for (std::size_t i = 0; i < body.edge().edges().size(); ++i) strips_.emplace_back(body, i);
}

double RoundOverVolume::taken_mm3(const CutPlane& front, const std::optional<CutPlane>& rear) const {
  const RoundOverStrip::Between between{upright(front), rear ? std::optional(upright(*rear)) : std::nullopt};
  double volume = 0;
  for (const RoundOverStrip& strip : strips_) volume += strip.volume_mm3(between);
  return volume;
}

}  // namespace haftwright::layout
