// What 95 of 100 handles would look like: a soft band round each joint line, where it ends up when the other
// side's line is held still, with the limits past which the step shows.
#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "fold_canvas.hpp"
#include "haftwright/alignment/telling.hpp"
#include "panel_line_up.hpp"
#include "places.hpp"

namespace haftwright::app {
namespace {

/// Holds on light wood and on dark, which look alike in both themes.
constexpr ImU32 kBand = IM_COL32(110, 190, 245, 255);
constexpr double kLabelPixelsPerMm = 6;  // at scale 1
constexpr double kTickMm = 4;            // of a limit, along the line

/// One end of a line on the sheet: where the line is drawn, where it may end up, and where it starts to show.
struct End {
  Vec2 own{0, 0};
  double from = 0, mean = 0, until = 0;  ///< drawing X; Y is that of `own`
  double limit_from = 0, limit_until = 0;
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

class SpreadPainter {
 public:
  SpreadPainter(const FoldCanvas& to, const WayReport& way)
      : to_(to), way_(way), map_(to.state.drawing.map), ink_(kBand) {}

  void paint() {
    for (const LineSpots& line : spots_of(way_))
      for (const Which side : {Which::left, Which::right}) {
        on_face(line, side);
        on_strip(line, side);
      }
    labels();
  }

 private:
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
    const std::size_t edge = map_.about() == FoldAbout::spine ? 0 : 1;
    const auto& spots = line.at[edge];
    if (!spots[0].place || !spots[1].place) return;
    const End inner = end_of(spots[0], side, true);
    const End outer = end_of(spots[1], side, true);
    band(inner, outer);
    if (line.telling[edge]) limits(inner, outer, 1);
  }

  /// Densest along the middle, thinning out toward where 95 of 100 end.
  void band(const End& a, const End& b) {
    const ImVec2 corners[] = {at(a, a.from), at(a, a.mean), at(a, a.until),
                              at(b, b.from), at(b, b.mean), at(b, b.until)};
    const ImU32 dense = with_alpha(ink_, 0xB0);
    const ImU32 thin = with_alpha(ink_, 0x38);
    ImDrawList& draw = to_.draw;
    const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
    draw.PrimReserve(12, 6);
    const unsigned first = draw._VtxCurrentIdx;
    for (std::size_t i = 0; i < 6; ++i) draw.PrimWriteVtx(corners[i], white, i % 3 == 1 ? dense : thin);
    for (const unsigned index : {0U, 1U, 4U, 0U, 4U, 3U, 1U, 2U, 5U, 1U, 5U, 4U})
      draw.PrimWriteIdx(static_cast<ImDrawIdx>(first + index));
    for (const std::size_t side : {0U, 2U})
      draw.AddLine(corners[side], corners[side + 3], with_alpha(ink_, 0xE0), scaled(1));
  }

  /// From `a` so far toward `b`.
  void limits(const End& a, const End& b, double share) const {
    const auto stroke = [&](double from, double until) {
      const Vec2 start{from, a.own.y};
      const Vec2 stop = start + (Vec2{until, b.own.y} - start) * share;
      to_.path({start, stop}, false, with_alpha(palette().paper, 0xA0), scaled(3));
      to_.dashed({start, stop}, false, palette().fail, scaled(1.8F));
    };
    stroke(a.limit_from, b.limit_from);
    stroke(a.limit_until, b.limit_until);
  }

  /// Beside the telling line of each joint, on the strip, as far as there is room; what was picked first.
  /// Seen from afar they would cover the handle.
  void labels() const {
    const HandleEdge edge = map_.about() == FoldAbout::spine ? HandleEdge::spine : HandleEdge::belly;
    std::vector<std::size_t> telling;
    for (const std::size_t m : telling_measures(way_)) {
      const MeetingPlace& place = way_.line_up.places[way_.line_up.measures[m].place];
      if (way_.line_up.measures[m].kind == Measure::Kind::step_mm && place.edge == edge && place.surface)
        telling.push_back(m);
    }
    std::stable_partition(telling.begin(), telling.end(), [&](std::size_t m) { return picked(m); });
    std::vector<std::pair<float, float>> taken;
    const bool near = to_.state.frame.pixels_per_mm > kLabelPixelsPerMm * scaled(1);
    for (const std::size_t m : telling)
      if (near || picked(m)) label(m, taken);
  }

  bool picked(std::size_t m) const { return to_.ui.pointer.finding == end_key(way_.line_up, m); }

  void label(std::size_t m, std::vector<std::pair<float, float>>& taken) const {
    const Measure& measure = way_.line_up.stack.measures[m];
    const Distribution& spread = way_.samples.measures[m];
    const MeetingPlace& place = way_.line_up.places[way_.line_up.measures[m].place];
    const End end = end_of({&place, &spread}, Which::left, true);
    const LengthUnit unit = to_.ui.unit();
    const std::string lines[] = {
        "95 of 100: " + small_length(spread.size_95, unit),
        "over " + small_length(measure.visible, unit) + " shows: " + percent_words(spread.shows.share)};
    const float width = std::max(tag_size(lines[0]).x, tag_size(lines[1]).x);
    const float row = tag_size(lines[0]).y;
    ImVec2 at = to_.at(Vec2{end.until, end.own.y});
    at.x += scaled(10);
    if (at.x + width > to_.state.high.x) at.x = to_.at(Vec2{end.from, end.own.y}).x - scaled(10) - width;
    const std::pair<float, float> room{at.x, at.x + width};
    const bool free = std::ranges::none_of(
        taken, [&](const auto& other) { return room.first < other.second && other.first < room.second; });
    if (!free) return;
    taken.push_back(room);
    const float inward = to_.at(map_.on_strip(place.left.at.x, 0)).y > at.y ? 1.0F : -1.0F;
    at.y += inward * row * 0.9F;
    for (std::size_t i = 0; i < 2; ++i)
      to_.tag({at.x, at.y + inward * row * static_cast<float>(inward > 0 ? i : 1 - i)}, lines[i],
              palette().ink, picked(m) ? palette().selected : with_alpha(palette().selected, 0x60));
    places::point("spread", where_words(to_.ui.design(), measure_place(way_.line_up, m)), at);
  }

  ImVec2 at(const End& end, double x) const { return to_.at(Vec2{x, end.own.y}); }

  const FoldCanvas& to_;
  const WayReport& way_;
  const FoldMap& map_;
  ImU32 ink_;
};

}  // namespace

void paint_spread(const FoldCanvas& to) {
  if (!to.state.spread || to.state.drawn_revision == 0) return;
  const LineUpShown shown = ask_line_up(to.ui);
  if (!shown.now || !shown.now->problem.empty()) return;
  const WayReport& way = shown.now->report.ways[shown.now->report.chosen];
  if (way.problem.empty()) SpreadPainter(to, way).paint();
}

}  // namespace haftwright::app
