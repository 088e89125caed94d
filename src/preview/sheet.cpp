#include "sheet.hpp"

#include <limits>

namespace haftwright::preview {
namespace {

constexpr std::uint32_t kNoPoint = std::numeric_limits<std::uint32_t>::max();

}  // namespace

void SheetMesh::clear() {
  points.clear();
  normals.clear();
  on_rim.clear();
  faces.clear();
  curves.clear();
}

std::uint32_t SheetMesh::add(Vec3 point, Vec3 normal, bool rim) {
  points.push_back(point);
  normals.push_back(normal);
  on_rim.push_back(rim);
  return static_cast<std::uint32_t>(points.size() - 1);
}

bool SheetPlan::inside(Vec2 p) const {
  for (const RoundHole& hole : holes) {
    const Vec2 off = p - hole.centre;
    if (glm::dot(off, off) < hole.radius_mm * hole.radius_mm) return false;
  }
  for (const Outline& opening : openings)
    if (opening.contains(p)) return false;
  for (const Outline& outline : outlines)
    if (outline.contains(p)) return true;
  return false;
}

void SheetWorkshop::trace(const SheetPlan& plan, SheetMesh& mesh) {
  curves.clear();
  std::vector<std::size_t> first_curve;
  for (const Outline& outline : plan.outlines) first_curve.push_back(curves.add(outline, plan.spacing));
  mesh.first_opening = curves.curves().size();
  for (const Outline& opening : plan.openings) curves.add(opening, plan.spacing);
  for (const RoundHole& hole : plan.holes) curves.add(hole, plan.spacing);
  for (const Vec2 place : plan.wanted) {
    Nearest best{std::numeric_limits<double>::infinity()};
    std::size_t curve = 0;
    for (std::size_t i = 0; i < plan.outlines.size(); ++i) {
      const Nearest here = plan.outlines[i].nearest(place);
      if (here.distance_mm >= best.distance_mm) continue;
      best = here;
      curve = first_curve[i] + here.edge;
    }
    curves.want(curve, best.t);
  }
  curves.sample();
  mesh.curves = curves.curves();
}

void SheetWorkshop::constrain_loops() {
  const std::vector<PlanSample>& samples = curves.samples();
  for (const PlanCurves::Loop& loop : curves.loops())
    for (std::size_t i = loop.first_sample; i < loop.end_sample; ++i) {
      const std::size_t next = i + 1 < loop.end_sample ? i + 1 : loop.first_sample;
      net.constrain(corners[i], corners[next], static_cast<int>(samples[i].curve));
    }
}

void add_walls(const std::vector<PlanTriangulation::BoundaryEdge>& boundary, const SheetWorkshop& shop,
               SheetMesh& mesh) {
  for (const PlanTriangulation::BoundaryEdge& edge : boundary) {
    const std::uint32_t inner_from = shop.inner_point[edge.from];
    const std::uint32_t inner_to = shop.inner_point[edge.to];
    const std::uint32_t outer_from = shop.outer_point[edge.from];
    const std::uint32_t outer_to = shop.outer_point[edge.to];
    mesh.faces.push_back({{inner_from, inner_to, outer_to}, FaceKind::wall, edge.curve});
    mesh.faces.push_back({{inner_from, outer_to, outer_from}, FaceKind::wall, edge.curve});
  }
}

void build_flat_sheet(const SheetPlan& plan, double inner, double outer, SheetWorkshop& shop,
                      SheetMesh& mesh) {
  mesh.clear();
  shop.trace(plan, mesh);
  shop.places.clear();
  for (const PlanSample& sample : shop.curves.samples()) shop.places.push_back(sample.at);
  shop.net.start(shop.curves.bounds());
  shop.net.add(shop.places, shop.corners);
  shop.constrain_loops();
  const PlanTriangulation::Kept kept = shop.net.keep_where([&](Vec2 p) { return plan.inside(p); });

  const std::vector<Vec2>& points = shop.net.points();
  shop.inner_point.assign(points.size(), kNoPoint);
  shop.outer_point.assign(points.size(), kNoPoint);
  for (const auto& triangle : kept.triangles)
    for (const auto corner : triangle) {
      if (shop.inner_point[corner] != kNoPoint) continue;
      const Vec2 p = points[corner];
      shop.inner_point[corner] = mesh.add({p.x, p.y, inner}, {0, 0, -1}, false);
      shop.outer_point[corner] = mesh.add({p.x, p.y, outer}, {0, 0, 1}, true);
    }
  for (const auto& [a, b, c] : kept.triangles) {
    mesh.faces.push_back(
        {{shop.outer_point[a], shop.outer_point[b], shop.outer_point[c]}, FaceKind::outer, 0});
    mesh.faces.push_back(
        {{shop.inner_point[a], shop.inner_point[c], shop.inner_point[b]}, FaceKind::inner, 0});
  }
  add_walls(kept.boundary, shop, mesh);
}

}  // namespace haftwright::preview
