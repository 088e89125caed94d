#include "outline_fault.hpp"

#include <algorithm>
#include <cmath>

#include "edge_contacts.hpp"
#include "edge_geometry.hpp"
#include "haftwright/geometry/outline.hpp"
#include "tolerances.hpp"

namespace haftwright {

using namespace geometry;

namespace {

OutlineFault too_few_corners() {
  return {0, "has too few corners to enclose anything"};
}

std::optional<OutlineFault> find_node_fault(const std::vector<Node>& chain) {
  const std::size_t n = chain.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Node& node = chain[i];
    if (!std::isfinite(node.at.x) || !std::isfinite(node.at.y) || !std::isfinite(node.bulge)) {
      return OutlineFault{i, "is not a finite number"};
    }
    if (std::abs(node.bulge) > kLargestBulge) return OutlineFault{i, "has a bulge beyond 16"};
  }
  if (n < 2) return too_few_corners();
  for (std::size_t i = 0; i < n; ++i) {
    if (distance_mm(chain[i].at, chain[(i + 1) % n].at) < kLeastEdge_mm) {
      return OutlineFault{i, "lies on the next node: the edge between them has no length"};
    }
  }
  return std::nullopt;
}

/// The second place where the carriers of two edges that share `corner` meet: the corner mirrored in the line
/// through the centres (for a line: in its perpendicular through the other's centre). None for two lines, or
/// for circles so close that they pass for one.
std::optional<Vec2> second_meeting(const Edge& a, const Edge& b, Vec2 corner) {
  if (!a.is_arc() && !b.is_arc()) return std::nullopt;
  const Edge& arc = a.is_arc() ? a : b;
  const Edge& other = a.is_arc() ? b : a;
  Vec2 axis = other.is_arc() ? other.centre - arc.centre : turned_left(other.to - other.from);
  const double length = std::hypot(axis.x, axis.y);
  if (length < kSamePlace_mm) return std::nullopt;
  axis /= length;
  const Vec2 across = turned_left(axis);
  return corner + across * (2 * glm::dot(across, arc.centre - corner));
}

/// True when two edges that follow each other meet anywhere but at the corner they share.
bool neighbours_meet_again(const Edge& before, const Edge& after) {
  const Vec2 corner = before.to;
  const double limit = kLeastEdge_mm * kLeastEdge_mm;
  if (after.to == before.from) return false;  // a chain of two edges meets at both its nodes, nowhere else
  if (foot_on(after, before.from).distance_squared < limit) return true;
  if (foot_on(before, after.to).distance_squared < limit) return true;
  const auto again = second_meeting(before, after, corner);
  if (!again || length_squared(*again - corner) < limit) return false;
  const double same = kSamePlace_mm * kSamePlace_mm;
  return foot_on(before, *again).distance_squared < same && foot_on(after, *again).distance_squared < same;
}

}  // namespace

std::optional<OutlineFault> geometry::find_meeting(const std::vector<Edge>& edges) {
  std::vector<Bounds> boxes;
  for (const Edge& edge : edges) boxes.push_back(bounds_of(edge));
  const std::size_t n = edges.size();
  std::optional<OutlineFault> fault;
  visit_near_pairs(boxes, kLeastEdge_mm, [&](std::size_t i, std::size_t j) {
    const bool follows = j == i + 1;
    const bool closes = i == 0 && j == n - 1;
    const bool meet = follows  ? neighbours_meet_again(edges[i], edges[j])
                      : closes ? neighbours_meet_again(edges[j], edges[i])
                               : edge_distance_mm(edges[i], edges[j]) < kLeastEdge_mm;
    if (meet) {
      fault =
          OutlineFault{i, "starts an edge that crosses or touches the edge from node " + std::to_string(j)};
    }
    return !meet;
  });
  return fault;
}

std::vector<Node> geometry::straightened(std::vector<Node> chain) {
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const double chord_mm = distance_mm(chain[i].at, chain[(i + 1) % chain.size()].at);
    if (std::abs(chain[i].bulge) * chord_mm / 2 < kNegligibleSagitta_mm) chain[i].bulge = 0;
  }
  return chain;
}

std::optional<OutlineFault> find_fault(const std::vector<Node>& given) {
  if (auto fault = find_node_fault(given)) return fault;
  const std::vector<Node> chain = straightened(given);
  const bool any_arc = std::ranges::any_of(chain, [](const Node& node) { return node.bulge != 0; });
  if (chain.size() < 3 && !any_arc) return too_few_corners();
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    edges.emplace_back(chain[i].at, chain[(i + 1) % chain.size()].at, chain[i].bulge);
  }
  if (auto fault = find_meeting(edges)) return fault;
  if (std::abs(signed_area_mm2(edges, chain.front().at)) < kLeastArea_mm2) {
    return OutlineFault{0, "is part of a chain that encloses no area"};
  }
  return std::nullopt;
}

}  // namespace haftwright
