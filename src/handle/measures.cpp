#include "haftwright/handle/measures.hpp"

#include <algorithm>
#include <cmath>

namespace haftwright {

namespace {

double diameter_mm(const PinLayout& pin, HoleLayer::Kind kind) {
  const auto layer = std::ranges::find(pin.layers, kind, &HoleLayer::kind);
  return layer == pin.layers.end() ? 0 : layer->diameter_mm;
}

/// "a", "a and b", "a, b and c".
void append(std::string& list, const std::string& word) {
  if (list.empty()) {
    list = word;
    return;
  }
  const auto last = list.find(" and ");
  if (last != std::string::npos) list.replace(last, 5, ", ");
  list += " and " + word;
}

HoleOverlap overlap_of(const PinLayout& a, const PinLayout& b) {
  constexpr double kTouch_mm = 1e-9;
  constexpr std::pair<HoleLayer::Kind, const char*> kLayers[] = {{HoleLayer::Kind::scale, "scales"},
                                                                 {HoleLayer::Kind::liner, "liners"},
                                                                 {HoleLayer::Kind::tang, "tang"}};
  HoleOverlap overlap{a.pin, b.pin, glm::distance(a.at, b.at)};
  for (const auto& [kind, words] : kLayers) {
    const double touching = (diameter_mm(a, kind) + diameter_mm(b, kind)) / 2;
    overlap.needed_mm = std::max(overlap.needed_mm, touching);
    if (overlap.apart_mm < touching - kTouch_mm) append(overlap.layers, words);
  }
  return overlap;
}

}  // namespace

CaliperReach caliper_from_front(const SideLayout& side, const JointLine& line, HandleEdge edge) {
  const bool spine = edge == HandleEdge::spine;
  const LineEnd& from = spine ? side.front_spine : side.front_belly;
  const LineEnd& to = spine ? line.spine : line.belly;
  return {glm::distance(from.inner, to.inner), glm::distance(from.outer, to.outer)};
}

Vec3 on_finished_surface(const Handle& handle, Vec3 place, Which seen) {
  constexpr double kOnEdge_mm = 0.05;
  const Which side = place.z > 0 ? Which::left : place.z < 0 ? Which::right : seen;
  const SideLayout& over = handle.side(side);
  if (over.finished.depth_mm(Vec2(place)) < kOnEdge_mm) return place;
  const double out = handle.tang_thickness_mm(place.x) / 2 + over.surface.height_mm(Vec2(place));
  if (out <= std::abs(place.z)) return place;
  return {Vec2(place), side == Which::left ? out : -out};
}

std::vector<HoleOverlap> overlapping_holes(const Handle& handle) {
  std::vector<HoleOverlap> overlaps;
  for (std::size_t i = 0; i < handle.pins.size(); ++i)
    for (std::size_t j = i + 1; j < handle.pins.size(); ++j)
      if (HoleOverlap overlap = overlap_of(handle.pins[i], handle.pins[j]); !overlap.layers.empty())
        overlaps.push_back(std::move(overlap));
  return overlaps;
}

}  // namespace haftwright
