#include "haftwright/preview/fold_spread.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "haftwright/alignment/telling.hpp"

namespace haftwright {
namespace {

constexpr double kTickMm = 4;  // of a limit, along the line

/// One end of a line in the drawing: where the line is drawn, where it may end up, from where on it shows.
struct End {
  Vec2 own{0, 0};
  double from = 0, mean = 0, until = 0;  ///< drawing X; Y is that of `own`
  double limit_from = 0, limit_until = 0;

  std::array<Vec2, 3> rung() const { return {at(from), at(mean), at(until)}; }
  Vec2 at(double x) const { return {x, own.y}; }
};

struct MarkSpot {
  const MeetingPlace* place = nullptr;
  const Distribution* spread = nullptr;
};
/// Of one line.
struct LineSpots {
  std::array<std::array<MarkSpot, 2>, 2> at;  ///< spine and belly, tang face and finished surface
  std::array<bool, 2> telling{};  ///< there it parts most of the joint's lines, on the finished surface
};

std::vector<LineSpots> spots_of(const WayReport& way) {
  const std::vector<std::size_t> telling = telling_measures(way);
  std::map<std::pair<std::size_t, std::size_t>, LineSpots> lines;
  for (std::size_t m = 0; m < way.line_up.measures.size(); ++m) {
    const MeasureInfo& info = way.line_up.measures[m];
    if (info.kind != Measure::Kind::step_mm) continue;
    const MeetingPlace& place = way.line_up.places[info.place];
    const std::size_t joint = place.joint ? *place.joint + 1 : 0;
    const std::size_t edge = place.edge == HandleEdge::spine ? 0 : 1;
    LineSpots& line = lines[{joint, place.line}];
    line.at[edge][place.surface ? 1 : 0] = {&place, &way.samples.measures[m]};
    if (place.surface) line.telling[edge] = std::ranges::find(telling, m) != telling.end();
  }
  std::vector<LineSpots> spots;
  for (const auto& [name, line] : lines) spots.push_back(line);
  return spots;
}

class SpreadMaker {
 public:
  SpreadMaker(const WayReport& way, const FoldMap& map) : way_(way), map_(map) {}

  FoldSpread make() {
    for (const LineSpots& line : spots_of(way_))
      for (const Which side : {Which::left, Which::right}) {
        on_face(line, side);
        on_strip(line, side);
      }
    ends();
    return std::move(made_);
  }

 private:
  HandleEdge shown_edge() const {
    return map_.about() == FoldAbout::spine ? HandleEdge::spine : HandleEdge::belly;
  }

  /// The step is left less right: with the other side held still, this side's line lies a step from it.
  End end_of(const MarkSpot& spot, Which side, bool strip) const {
    const Distribution& spread = *spot.spread;
    const bool left = side == Which::left;
    const Vec3& own = left ? spot.place->left.at : spot.place->right.at;
    const double other = left ? spot.place->right.at.x : spot.place->left.at.x;
    const auto drawn = [&](double x) {
      return strip ? map_.on_strip(x, own.z) : map_.on_face(side, {x, own.y});
    };
    const double sign = left ? 1 : -1;
    const double a = other + sign * spread.low_95;
    const double b = other + sign * spread.high_95;
    return {drawn(own.x),
            drawn(std::min(a, b)).x,
            drawn(other + sign * spread.mean).x,
            drawn(std::max(a, b)).x,
            drawn(other - spot.place->visible_mm).x,
            drawn(other + spot.place->visible_mm).x};
  }

  void on_face(const LineSpots& line, Which side) {
    const MarkSpot& spine = line.at[0][1];
    const MarkSpot& belly = line.at[1][1];
    if (!spine.place || !belly.place) return;
    const End a = end_of(spine, side, false);
    const End b = end_of(belly, side, false);
    band(a, b);
    const double share = std::min(1.0, kTickMm / std::max(1e-6, glm::distance(a.own, b.own)));
    if (line.telling[0]) limits(a, b, share);
    if (line.telling[1]) limits(b, a, share);
  }

  void on_strip(const LineSpots& line, Which side) {
    const std::size_t edge = shown_edge() == HandleEdge::spine ? 0 : 1;
    const auto& spots = line.at[edge];
    if (!spots[0].place || !spots[1].place) return;
    const End inner = end_of(spots[0], side, true);
    const End outer = end_of(spots[1], side, true);
    band(inner, outer);
    if (line.telling[edge]) limits(inner, outer, 1);
  }

  void band(const End& a, const End& b) { made_.drawing.add(Role::spread, Band{a.rung(), b.rung()}); }

  /// From `a` so far toward `b`.
  void limits(const End& a, const End& b, double share) {
    const auto stroke = [&](double from, double until) {
      const Vec2 start = a.at(from);
      made_.drawing.add(Role::limit, straight(start, start + (b.at(until) - start) * share));
    };
    stroke(a.limit_from, b.limit_from);
    stroke(a.limit_until, b.limit_until);
  }

  void ends() {
    for (const std::size_t m : telling_measures(way_)) {
      const MeasureInfo& info = way_.line_up.measures[m];
      const MeetingPlace& place = way_.line_up.places[info.place];
      if (info.kind != Measure::Kind::step_mm || place.edge != shown_edge() || !place.surface) continue;
      const End end = end_of({&place, &way_.samples.measures[m]}, Which::left, true);
      made_.ends.push_back(
          {m, end.at(end.from), end.at(end.until), map_.on_strip(place.left.at.x, 0).y > end.own.y});
    }
  }

  const WayReport& way_;
  const FoldMap& map_;
  FoldSpread made_;
};

}  // namespace

FoldSpread draw_spread(const WayReport& way, const FoldMap& map) {
  return SpreadMaker(way, map).make();
}

}  // namespace haftwright
