#include "walls.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "numeric.hpp"

namespace haftwright::layout {
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

}  // namespace

LowWall lowest_wall(const HeightField& surface, double liner_total_mm, const CutPlane& front) {
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

}  // namespace haftwright::layout
