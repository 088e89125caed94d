#include "haftwright/geometry/height_field.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "border_grid.hpp"
#include "crown.hpp"
#include "rail.hpp"
#include "rolling_ball.hpp"

namespace haftwright {

using namespace geometry;
namespace {

/// Points this near outside the edge count as on it.
constexpr double kOnEdge_mm = 1e-9;

const SurfaceShape& checked(const Outline& edge, const SurfaceShape& shape) {
  const bool finite = std::isfinite(shape.crest_y_mm) && std::isfinite(shape.round_over_mm) &&
                      std::isfinite(shape.base_slope) && std::isfinite(shape.crown_radius_mm.value_or(1));
  if (!finite) throw std::invalid_argument("a surface's numbers must be finite");
  if (shape.round_over_mm < 0) throw std::invalid_argument("a round-over cannot be less than 0");
  if (!shape.crown_radius_mm) return shape;
  const double farthest =
      std::max(edge.bounds().high.y - shape.crest_y_mm, shape.crest_y_mm - edge.bounds().low.y);
  if (!(*shape.crown_radius_mm >= farthest))
    throw std::invalid_argument("the crown radius is smaller than the handle reaches from the crest");
  if (!(*shape.crown_radius_mm > shape.round_over_mm))
    throw std::invalid_argument("the crown radius must be larger than the round-over");
  return shape;
}

double reach_bound_mm(const Crown& crown, const Bounds& bounds, double radius_mm) {
  return radius_mm * (1 + crown.steepest_normal(bounds.low.y, bounds.high.y));
}

}  // namespace

struct HeightField::Impl {
  Impl(const Outline& outline, const SurfaceShape& surface)
      : edge(outline),
        shape(checked(outline, surface)),
        crown(shape),
        rails(edge, shape.round_over_mm),
        reach_mm(reach_bound_mm(crown, edge.bounds(), shape.round_over_mm)),
        grid(edge, reach_mm),
        ball(crown, rails, shape.round_over_mm) {}
  Impl(const Impl&) = delete;  // ball looks at crown and rails
  Impl& operator=(const Impl&) = delete;

  using Edges = std::span<const std::uint32_t>;
  /// Depth below the edge as far as the edges near tell; `reach_mm` when they are farther off.
  double depth_mm(Vec2 p, Edges near) const;
  SurfacePoint crowned(Vec2 p) const;
  template <class Visit>
  void visit_walls(Vec2 p, Edges near, Visit&& visit) const;
  SurfacePoint rounded(Vec2 p, Edges near) const;
  double wall_height_mm(Vec2 on_edge) const;

  struct Place {
    bool outside = true;
    double depth_mm = 0;  // only when asked for
    SurfacePoint surface;
  };
  Place place(Vec2 p, bool measured) const;

  Outline edge;
  SurfaceShape shape;
  Crown crown;
  Rails rails;
  double reach_mm;
  BorderGrid grid;
  RollingBall ball;
};

double HeightField::Impl::depth_mm(Vec2 p, Edges near) const {
  double depth = std::numeric_limits<double>::infinity();
  for (const std::uint32_t edge_index : near)
    rails.visit_near(edge_index, [&](const Rail& rail) {
      if (!rail.measures || !rail.spans(p)) return;
      const double here = foot_of(rail, p).depth_mm;
      if (std::abs(here) < std::abs(depth)) depth = here;
    });
  return std::min(depth, reach_mm);
}

SurfacePoint HeightField::Impl::crowned(Vec2 p) const {
  const Contact at = crown.at(p);
  return {at.z, at.gradient()};
}

/// Calls visit(rail, foot) for every wall that may be rounded over p.
template <class Visit>
void HeightField::Impl::visit_walls(Vec2 p, Edges near, Visit&& visit) const {
  for (const std::uint32_t edge_index : near)
    rails.visit_near(edge_index, [&](const Rail& rail) {
      if (!rail.rounds || !rail.spans(p)) return;
      const RailFoot foot = foot_of(rail, p);
      if (foot.depth_mm >= -kOnEdge_mm && foot.depth_mm <= reach_mm) visit(rail, foot);
    });
}

/// The lowest of the round-overs over p: where two walls are near, both have taken their part away.
SurfacePoint HeightField::Impl::rounded(Vec2 p, Edges near) const {
  if (shape.round_over_mm == 0) return crowned(p);
  const UnderCrown point{p, crown.at(p)};
  SurfacePoint lowest{point.crown.z, point.crown.gradient()};
  int walls = 0;
  const Rail* nearest = nullptr;
  RailFoot nearest_foot;
  visit_walls(p, near, [&](const Rail& rail, const RailFoot& foot) {
    ++walls;
    if (nearest && foot.depth_mm >= nearest_foot.depth_mm) return;
    nearest = &rail;
    nearest_foot = foot;
  });
  const auto lower_to = [&](const Rail& rail, const RailFoot& foot) {
    const auto rounded = ball.envelope(point, rail, foot);
    if (rounded && rounded->z < lowest.z) lowest = *rounded;
  };
  if (walls > 0) lower_to(*nearest, nearest_foot);
  if (walls > 1)
    visit_walls(p, near, [&](const Rail& rail, const RailFoot& foot) {
      if (&rail != nearest && !ball.is_hidden(point, foot, nearest_foot)) lower_to(rail, foot);
    });
  return lowest;
}

HeightField::Impl::Place HeightField::Impl::place(Vec2 p, bool measured) const {
  const BorderGrid::Cell cell = grid.at(p);
  if (cell.kind == BorderGrid::Kind::outside) return {};
  if (cell.kind == BorderGrid::Kind::deep) return {false, reach_mm, crowned(p)};
  double depth = reach_mm;
  if (measured || cell.kind == BorderGrid::Kind::crossing) depth = depth_mm(p, cell.edges);
  if (depth < -kOnEdge_mm) return {};
  return {false, std::max(depth, 0.0), rounded(p, cell.edges)};
}

double HeightField::Impl::wall_height_mm(Vec2 on_edge) const {
  return rounded(on_edge, grid.at(on_edge).edges).z - crown.base_slope() * on_edge.x;
}

HeightField::HeightField(const Outline& edge, const SurfaceShape& shape)
    : impl_(std::make_shared<const Impl>(edge, shape)) {}

const Outline& HeightField::edge() const {
  return impl_->edge;
}

const SurfaceShape& HeightField::shape() const {
  return impl_->shape;
}

double HeightField::height_mm(Vec2 p) const {
  const Impl::Place place = impl_->place(p, false);
  return place.outside ? 0 : place.surface.z - impl_->crown.base_slope() * p.x;
}

HeightField::Sample HeightField::sample(Vec2 p) const {
  const Impl::Place place = impl_->place(p, true);
  if (place.outside) return {};
  const double slope = impl_->crown.base_slope();
  return {place.surface.z - slope * p.x, place.surface.gradient - Vec2{slope, 0}, place.depth_mm};
}

double HeightField::crown_mm(Vec2 p) const {
  return impl_->crowned(p).z - impl_->crown.base_slope() * p.x;
}

Vec2 HeightField::crown_gradient(Vec2 p) const {
  return impl_->crowned(p).gradient - Vec2{impl_->crown.base_slope(), 0};
}

double HeightField::wall_height_mm(const Nearest& at) const {
  return impl_->wall_height_mm(at.point);
}

double HeightField::round_over_reach_mm(const Nearest& at) const {
  if (impl_->shape.round_over_mm == 0) return 0;
  return impl_->ball.reach_mm(impl_->rails[at.edge], at.point);
}

}  // namespace haftwright
