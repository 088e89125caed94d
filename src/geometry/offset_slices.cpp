#include <algorithm>
#include <cmath>
#include <numeric>

#include "edge_contacts.hpp"
#include "offset_pieces.hpp"

namespace haftwright::geometry {

namespace {

struct Cut {
  std::size_t raw = 0;
  double t = 0;
  Vec2 point{0, 0};
  std::size_t place = 0;
};

bool are_same_place(Vec2 a, Vec2 b) {
  return length_squared(a - b) <= kLeastEdge_mm * kLeastEdge_mm;
}

Cut cut_at(const std::vector<Edge>& raw, std::size_t i, Vec2 p) {
  const Edge& edge = raw[i];
  if (are_same_place(p, edge.from)) return {i, 0, edge.from};
  if (are_same_place(p, edge.to)) return {i, 1, edge.to};
  const Vec2 foot = foot_on(edge, p).point;
  return {i, parameter_of(edge, foot), foot};
}

std::vector<Cut> cuts_of(const std::vector<Edge>& raw) {
  std::vector<Cut> cuts;
  std::vector<Bounds> boxes;
  for (std::size_t i = 0; i < raw.size(); ++i) {
    cuts.push_back({i, 0, raw[i].from});
    cuts.push_back({i, 1, raw[i].to});
    boxes.push_back(bounds_of(raw[i]));
  }
  visit_near_pairs(boxes, kLeastEdge_mm, [&](std::size_t i, std::size_t j) {
    visit_meetings(raw[i], raw[j], kLeastEdge_mm, [&](Vec2 p) {
      cuts.push_back(cut_at(raw, i, p));
      cuts.push_back(cut_at(raw, j, p));
    });
    return true;
  });
  return cuts;
}

/// Numbers the places of the cuts: cuts closer than kLeastEdge_mm, directly or by way of others, share
/// one.
std::vector<Vec2> number_places(std::vector<Cut>& cuts) {
  std::vector<std::size_t> order(cuts.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return cuts[i].point.x; });
  std::vector<std::size_t> parent(order);
  std::iota(parent.begin(), parent.end(), std::size_t{0});
  const auto root = [&parent](std::size_t i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
  };
  for (std::size_t k = 0; k < order.size(); ++k) {
    const Vec2 p = cuts[order[k]].point;
    for (std::size_t l = k + 1; l < order.size(); ++l) {
      const Vec2 q = cuts[order[l]].point;
      if (q.x - p.x > kLeastEdge_mm) break;
      if (are_same_place(p, q)) parent[root(order[l])] = root(order[k]);
    }
  }
  std::vector<Vec2> places;
  std::vector<std::size_t> number(cuts.size(), cuts.size());
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const std::size_t r = root(i);
    if (number[r] == cuts.size()) {
      number[r] = places.size();
      places.push_back(cuts[r].point);
    }
    cuts[i].place = number[r];
  }
  return places;
}

}  // namespace

SlicedEdges slice_offset_edges(const Outline& outline, const std::vector<Edge>& raw, double distance_mm) {
  std::vector<Cut> cuts = cuts_of(raw);
  SlicedEdges result;
  result.places = number_places(cuts);
  std::ranges::stable_sort(
      cuts, [](const Cut& a, const Cut& b) { return a.raw != b.raw ? a.raw < b.raw : a.t < b.t; });
  for (std::size_t k = 1; k < cuts.size(); ++k) {
    const Cut& a = cuts[k - 1];
    const Cut& b = cuts[k];
    if (a.raw != b.raw || a.place == b.place) continue;
    Slice slice{a.raw, a.t, b.t, a.place, b.place};
    slice.middle = raw[a.raw].point((a.t + b.t) / 2);
    slice.distance_mm = outline.nearest(slice.middle).distance_mm;
    if (slice.distance_mm >= distance_mm - kOffsetSlack_mm) result.slices.push_back(slice);
  }
  return result;
}

}  // namespace haftwright::geometry
