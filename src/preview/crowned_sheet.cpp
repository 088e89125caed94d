// The finished surface of a side as a net of points: rows along the edge where the round-over is, a grid
// elsewhere.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "sheet.hpp"

namespace haftwright::preview {
namespace {

constexpr std::uint32_t kNoPoint = std::numeric_limits<std::uint32_t>::max();
constexpr double kRadian = std::numbers::pi / 180;
constexpr double kOnEdge = 1e-6;
constexpr double kCornerTurn = 5 * kRadian;  // less is a smooth join
constexpr double kFanStep = 15 * kRadian;    // between rays round a reflex corner
constexpr int kLeastRows = 4;                // on a round-over
constexpr int kMostRows = 24;

Vec3 normal_of(Vec2 gradient) {
  return glm::normalize(Vec3{-gradient.x, -gradient.y, 1});
}

/// Squares of the plan that have a point in or beside them, to keep the grid's points at a distance.
class Taken {
 public:
  Taken(const Bounds& bounds, double square_mm) : low_(bounds.low), square_mm_(square_mm) {
    const Vec2 size = bounds.size() / square_mm;
    columns_ = static_cast<std::size_t>(size.x) + 3;
    rows_ = static_cast<std::size_t>(size.y) + 3;
    taken_.assign(columns_ * rows_, 0);
  }
  void take(Vec2 p) {
    const auto [column, row] = square(p);
    for (std::size_t j = row - 1; j <= row + 1; ++j)
      for (std::size_t i = column - 1; i <= column + 1; ++i) taken_[j * columns_ + i] = 1;
  }
  bool has(Vec2 p) const {
    const auto [column, row] = square(p);
    return taken_[row * columns_ + column] != 0;
  }

 private:
  struct Square {
    std::size_t column;
    std::size_t row;
  };
  /// Never on the rim of the field, so that there are always neighbours.
  Square square(Vec2 p) const {
    const Vec2 at = (p - low_) / square_mm_ + 1.0;
    const auto clamped = [](double value, std::size_t count) {
      return static_cast<std::size_t>(std::clamp(value, 1.0, static_cast<double>(count - 2)));
    };
    return {clamped(at.x, columns_), clamped(at.y, rows_)};
  }
  Vec2 low_;
  double square_mm_;
  std::size_t columns_ = 0;
  std::size_t rows_ = 0;
  std::vector<char> taken_;
};

/// A point of the outer face whose height is known.
struct Known {
  double height_mm = 0;
  Vec3 normal{0, 0, 1};
  bool rim = false;
};

class CrownedNet {
 public:
  CrownedNet(const SheetPlan& plan, const CrownedSheet& sheet, SheetWorkshop& shop)
      : plan_(plan), sheet_(sheet), shop_(shop), round_over_(sheet.surface.shape().round_over_mm) {}

  PlanTriangulation::Kept make(SheetMesh& mesh) {
    shop_.trace(plan_, mesh);
    shop_.places.clear();
    known_.clear();
    for (const PlanSample& sample : shop_.curves.samples()) place(sample.at, std::nullopt);
    const std::vector<PlanCurves::Loop>& loops = shop_.curves.loops();
    for (std::size_t i = 0; i < plan_.outlines.size(); ++i) follow(loops[i]);
    add_grid();
    shop_.net.start(shop_.curves.bounds());
    shop_.net.add(shop_.places, shop_.corners);
    shop_.constrain_loops();
    return shop_.net.keep_where([&](Vec2 p) { return plan_.inside(p); });
  }

  /// Fills outer_point for every corner in use.
  void raise(const PlanTriangulation::Kept& kept, SheetMesh& mesh) const {
    const std::vector<Vec2>& points = shop_.net.points();
    std::vector<std::uint32_t> known_at(points.size(), kNoPoint);
    for (std::size_t i = shop_.places.size(); i-- > 0;)
      if (known_[i]) known_at[shop_.corners[i]] = static_cast<std::uint32_t>(i);
    std::vector<char> at_wall(points.size(), 0);
    for (const auto& edge : kept.boundary)
      if (static_cast<std::size_t>(edge.curve) < mesh.first_opening)
        at_wall[edge.from] = at_wall[edge.to] = 1;

    shop_.outer_point.assign(points.size(), kNoPoint);
    for (const auto& triangle : kept.triangles)
      for (const auto corner : triangle) {
        if (shop_.outer_point[corner] != kNoPoint) continue;
        const Vec2 p = points[corner];
        const Known here = known_at[corner] != kNoPoint ? *known_[known_at[corner]]
                           : at_wall[corner]            ? wall_top(sheet_.surface.edge().nearest(p))
                                                        : on_surface(p);
        shop_.outer_point[corner] =
            mesh.add({p.x, p.y, here.height_mm - sheet_.below_mm}, here.normal, here.rim);
      }
  }

 private:
  std::size_t outline_curves() const { return shop_.curves.loops()[plan_.outlines.size() - 1].end_curve; }
  void place(Vec2 p, std::optional<Known> known) {
    shop_.places.push_back(p);
    known_.push_back(known);
  }
  Known on_surface(Vec2 p) const {
    const HeightField::Sample sample = sheet_.surface.sample(p);
    return {sample.height_mm, normal_of(sample.gradient), false};
  }
  /// The top of the wall. With a round-over the surface stands upright there.
  Known wall_top(const Nearest& at, Vec2 outward = {0, 0}) const {
    const double height = sheet_.surface.wall_height_mm(at);
    if (round_over_ == 0) return {height, normal_of(sheet_.surface.crown_gradient(at.point)), true};
    if (outward == Vec2{0, 0}) outward = right_of(sheet_.surface.edge().edges()[at.edge], at.point);
    return {height, {outward.x, outward.y, 0}, true};
  }

  /// Wall tops along an outline, and with a round-over the rows of points beside it.
  void follow(const PlanCurves::Loop& loop) {
    const std::vector<PlanSample>& samples = shop_.curves.samples();
    const std::vector<Edge>& curves = shop_.curves.curves();
    std::size_t before = loop.end_sample - 1;
    for (std::size_t i = loop.first_sample; i < loop.end_sample; before = i, ++i) {
      const Vec2 p = samples[i].at;
      const Nearest at = sheet_.surface.edge().nearest(p);
      if (at.distance_mm > kOnEdge) continue;  // where the plan ends ahead of the front face
      const Vec2 arriving = right_of(curves[samples[before].curve], p);
      const Vec2 leaving = right_of(curves[samples[i].curve], p);
      const double turn = std::atan2(cross(arriving, leaving), glm::dot(arriving, leaving));
      const Vec2 middle = arriving + leaving;
      const Vec2 outward = glm::dot(middle, middle) > 1e-6 ? glm::normalize(middle) : leaving;
      known_[i] = wall_top(at, outward);
      if (round_over_ == 0) continue;
      const double reach = sheet_.surface.round_over_reach_mm(at);
      if (turn > kCornerTurn)
        add_row(p, -outward, 1 / std::cos(turn / 2), reach);  // the mitre of a corner
      else if (turn < -kCornerTurn)
        add_fan(p, arriving, turn, reach);
      else
        add_row(p, -leaving, 1, reach);
    }
  }
  void add_fan(Vec2 p, Vec2 arriving, double turn, double reach) {
    const int rays = 1 + static_cast<int>(std::ceil(-turn / kFanStep));
    for (int k = 0; k < rays; ++k) {
      const double angle = turn * k / (rays - 1);
      const Vec2 outward{arriving.x * std::cos(angle) - arriving.y * std::sin(angle),
                         arriving.x * std::sin(angle) + arriving.y * std::cos(angle)};
      add_row(p, -outward, 1, reach);
    }
  }
  /// Points from the wall inward to where the round-over ends, at even turns of its profile. `stretch` is the
  /// way along `inward` for each millimetre of depth.
  void add_row(Vec2 p, Vec2 inward, double stretch, double reach) {
    if (!(reach > 0)) return;
    const double last = std::acos(std::clamp(1 - reach / round_over_, -1.0, 1.0));
    const double step = 2 * std::acos(std::max(0.0, 1 - plan_.spacing.deviation_mm / round_over_));
    const int rows = std::clamp(static_cast<int>(std::ceil(last / step)), kLeastRows, kMostRows);
    for (int k = 1; k <= rows; ++k) {
      const double depth = round_over_ * (1 - std::cos(last * k / rows));
      const Vec2 at = p + inward * (depth * stretch);
      const HeightField::Sample sample = sheet_.surface.sample(at);
      // Nearer to another wall: that one's rows are the right ones.
      if (sample.edge_distance_mm < std::min(depth, round_over_) - 1e-6) return;
      place(at, Known{sample.height_mm, normal_of(sample.gradient), false});
    }
  }

  /// Points of a grid with every other row half a cell on, inside the plan and clear of all other points.
  void add_grid() {
    const double cell = sheet_.cell_mm;
    const Bounds bounds = shop_.curves.bounds();
    Taken taken(bounds, cell / 2);
    for (const Vec2 p : shop_.places) taken.take(p);
    const double rise = cell * std::sqrt(3.0) / 2;
    bool shifted = false;
    for (double y = bounds.low.y + rise / 2; y < bounds.high.y; y += rise, shifted = !shifted) {
      find_stretches(y);
      for (std::size_t k = 0; k + 1 < stretches_.size(); k += 2) {
        const double first =
            std::ceil((stretches_[k] - bounds.low.x) / cell) * cell + bounds.low.x + (shifted ? cell / 2 : 0);
        for (double x = first; x < stretches_[k + 1]; x += cell)
          if (!taken.has({x, y})) place({x, y}, std::nullopt);
      }
    }
  }
  /// Where the row at y enters and leaves the outlines, by their polylines.
  void find_stretches(double y) {
    stretches_.clear();
    const std::vector<PlanSample>& samples = shop_.curves.samples();
    const std::vector<PlanCurves::Loop>& loops = shop_.curves.loops();
    for (std::size_t k = 0; k < plan_.outlines.size(); ++k) {
      Vec2 from = samples[loops[k].end_sample - 1].at;
      for (std::size_t i = loops[k].first_sample; i < loops[k].end_sample; ++i) {
        const Vec2 to = samples[i].at;
        if ((from.y > y) != (to.y > y))
          stretches_.push_back(from.x + (to.x - from.x) * (y - from.y) / (to.y - from.y));
        from = to;
      }
    }
    std::sort(stretches_.begin(), stretches_.end());
  }

  const SheetPlan& plan_;
  const CrownedSheet& sheet_;
  SheetWorkshop& shop_;
  double round_over_;
  std::vector<std::optional<Known>> known_;  // by place
  std::vector<double> stretches_;
};

/// The flat inner face over the same boundary, without the points between.
void add_inner_face(const std::vector<PlanTriangulation::BoundaryEdge>& boundary, SheetWorkshop& shop,
                    SheetMesh& mesh) {
  const std::vector<Vec2> outer_points = shop.net.points();
  std::vector<PlanTriangulation::Corner> corner_of(outer_points.size(), kNoPoint);
  shop.places.clear();
  std::vector<PlanTriangulation::Corner> from;
  for (const auto& edge : boundary) {
    if (corner_of[edge.from] != kNoPoint) continue;
    corner_of[edge.from] = 0;
    from.push_back(edge.from);
    shop.places.push_back(outer_points[edge.from]);
  }
  shop.net.start(shop.curves.bounds());
  shop.net.add(shop.places, shop.corners);
  for (std::size_t i = 0; i < from.size(); ++i) corner_of[from[i]] = shop.corners[i];
  for (const auto& edge : boundary) shop.net.constrain(corner_of[edge.from], corner_of[edge.to], edge.curve);
  const PlanTriangulation::Kept kept = shop.net.keep_left();

  std::vector<std::uint32_t> point_at(shop.net.points().size(), kNoPoint);
  shop.inner_point.assign(outer_points.size(), kNoPoint);
  for (std::size_t i = 0; i < from.size(); ++i) {
    const Vec2 p = outer_points[from[i]];
    const std::uint32_t point = mesh.add({p.x, p.y, 0}, {0, 0, -1}, false);
    shop.inner_point[from[i]] = point;
    point_at[shop.corners[i]] = point;
  }
  for (const auto& [a, b, c] : kept.triangles)
    mesh.faces.push_back({{point_at[a], point_at[c], point_at[b]}, FaceKind::inner, 0});
}

}  // namespace

void build_crowned_sheet(const SheetPlan& plan, const CrownedSheet& sheet, SheetWorkshop& shop,
                         SheetMesh& mesh) {
  mesh.clear();
  CrownedNet net(plan, sheet, shop);
  const PlanTriangulation::Kept kept = net.make(mesh);
  net.raise(kept, mesh);
  for (const auto& [a, b, c] : kept.triangles)
    mesh.faces.push_back(
        {{shop.outer_point[a], shop.outer_point[b], shop.outer_point[c]}, FaceKind::outer, 0});
  add_inner_face(kept.boundary, shop, mesh);
  add_walls(kept.boundary, shop, mesh);
}

}  // namespace haftwright::preview
