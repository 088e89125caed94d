#include "haftwright/handle/measures.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numeric.hpp"
#include "walls.hpp"

namespace haftwright {

using namespace layout;
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();

/// The side wall along one edge of the outline.
class Wall {
 public:
  Wall(const HeightField& surface, double liner_total_mm, const CutPlane& front, std::size_t edge)
      : surface_(surface),
        liner_total_mm_(liner_total_mm),
        front_(front),
        index_(edge),
        edge_(surface.edge().edges()[edge]) {}

  struct Top {
    double t = 0;
    double wood_mm = 0;
    bool stands = false;  ///< left by the front face
  };
  Top top(double t) const {
    Nearest at;
    at.point = edge_.point(t);
    at.edge = index_;
    at.t = t;
    const double wood = surface_.wall_height_mm(at) - liner_total_mm_;
    return {t, wood, front_.behind_mm(at.point.x, at.point.y, std::max(0.0, wood)) >= 0};
  }
  /// Tops at most 1 mm apart, close beside the ends, and where the front face cuts them.
  std::vector<Top> tops() const {
    constexpr double kBesideEnd = 1e-6;
    const auto steps = static_cast<std::size_t>(std::max(2.0, std::ceil(edge_.length())));
    std::vector<Top> tops;
    const auto add = [&](double t) {
      const Top here = top(t);
      if (!tops.empty() && here.stands != tops.back().stands)
        tops.push_back(here.stands ? cut(tops.back().t, here) : cut(here.t, tops.back()));
      tops.push_back(here);
    };
    for (std::size_t i = 0; i <= steps; ++i) {
      if (i == steps) add(1 - kBesideEnd);
      add(static_cast<double>(i) / static_cast<double>(steps));
      if (i == 0) add(kBesideEnd);
    }
    return tops;
  }
  Vec2 point(double t) const { return edge_.point(t); }

 private:
  Top cut(double gone_t, Top standing) const {
    for (int i = 0; i < 50; ++i) {
      const Top middle = top((gone_t + standing.t) / 2);
      if (middle.stands)
        standing = middle;
      else
        gone_t = middle.t;
    }
    return standing;
  }

  const HeightField& surface_;
  double liner_total_mm_;
  const CutPlane& front_;
  std::size_t index_;
  const Edge& edge_;
};

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

LowWall layout::lowest_wall(const HeightField& surface, double liner_total_mm, const CutPlane& front) {
  constexpr double kLevel_mm = 1e-6;
  constexpr double kMayHide_mm = 0.1;  // a wall falls by less between two tops
  constexpr int kSteps = 24;
  LowWall lowest{kNone, {0, 0}};
  struct Dip {
    std::size_t edge;
    double from_t, to_t, wood_mm;
  };
  std::vector<Dip> dips;
  const auto offer = [&](const Wall& wall, const Wall::Top& top) {
    if (top.stands && top.wood_mm < lowest.wood_mm) lowest = {top.wood_mm, wall.point(top.t)};
  };
  for (std::size_t i = 0; i < surface.edge().edges().size(); ++i) {
    const Wall wall(surface, liner_total_mm, front, i);
    const std::vector<Wall::Top> tops = wall.tops();
    for (const Wall::Top& top : tops) offer(wall, top);
    for (std::size_t k = 1; k + 1 < tops.size(); ++k) {
      const double before = tops[k - 1].wood_mm - tops[k].wood_mm;
      const double after = tops[k + 1].wood_mm - tops[k].wood_mm;
      if (tops[k].stands && before >= 0 && after >= 0 && before + after > kLevel_mm)
        dips.push_back({i, tops[k - 1].t, tops[k + 1].t, tops[k].wood_mm});
    }
  }
  for (const Dip& dip : dips) {
    if (dip.wood_mm > lowest.wood_mm + kMayHide_mm) continue;
    const Wall wall(surface, liner_total_mm, front, dip.edge);
    const auto wood = [&](double t) {
      const Wall::Top top = wall.top(t);
      return top.stands ? top.wood_mm : kNone;
    };
    offer(wall, wall.top(least_between(dip.from_t, dip.to_t, wood, kSteps)));
  }
  return lowest;
}

LowWall lowest_wall(const SideLayout& side) {
  return layout::lowest_wall(side.surface, side.liner_total_mm, side.front);
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
