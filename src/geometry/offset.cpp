#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "edge_geometry.hpp"
#include "haftwright/geometry/outline_ops.hpp"
#include "offset_pieces.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

namespace {

/// Area of a closed chain, negative for a clockwise one; 0 for one that is no shape: thinner than what passes
/// for one place.
double shape_area_mm2(const std::vector<Node>& chain) {
  std::vector<Edge> edges;
  double perimeter = 0;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    edges.emplace_back(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
    perimeter += edges.back().length();
  }
  const double area = signed_area_mm2(edges, chain.front().at);
  return std::abs(area) < std::max(kLeastArea_mm2, kLeastEdge_mm * perimeter / 2) ? 0 : area;
}

bool is_left_of(const Outline& a, const Outline& b) {
  return a.nodes().front().at.x < b.nodes().front().at.x;
}

/// Growing keeps a shape in one part, with holes where a bay closes.
std::vector<Region> one_region(std::vector<Outline> parts, std::vector<Outline> holes) {
  if (parts.empty()) return {};
  const auto outer = std::ranges::max_element(parts, {}, [](const Outline& o) { return o.area_mm2(); });
  std::ranges::sort(holes, is_left_of);
  return {{std::move(*outer), std::move(holes)}};
}

/// Shrinking a shape without holes makes parts without holes.
std::vector<Region> regions_without_holes(std::vector<Outline> parts) {
  std::ranges::sort(parts, is_left_of);
  std::vector<Region> regions;
  for (Outline& part : parts) regions.push_back({std::move(part), {}});
  return regions;
}

}  // namespace

std::vector<Region> offset(const Outline& outline, double outward_mm) {
  if (!std::isfinite(outward_mm)) throw std::invalid_argument("an offset needs a finite distance");
  if (outward_mm == 0) return {{outline, {}}};
  const std::vector<Edge> raw = raw_offset_edges(outline, outward_mm);
  std::vector<Outline> parts;
  std::vector<Outline> holes;
  for (std::vector<Node>& chain : stitch(raw, slice_offset_edges(outline, raw, std::abs(outward_mm)))) {
    if (chain.size() < 2) continue;
    const double area = shape_area_mm2(chain);
    if (area == 0) continue;
    (area > 0 ? parts : holes).push_back(Outline::trusted(std::move(chain)));
  }
  return outward_mm > 0 ? one_region(std::move(parts), std::move(holes))
                        : regions_without_holes(std::move(parts));
}

}  // namespace haftwright
