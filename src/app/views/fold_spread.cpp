// What 95 of 100 handles would look like at the joints, with figures beside the lines that tell most.
#include <algorithm>
#include <utility>

#include "fold_canvas.hpp"
#include "haftwright/alignment/telling.hpp"
#include "haftwright/preview/fold_spread.hpp"
#include "line_up_shown.hpp"
#include "places.hpp"

namespace haftwright::app {
namespace {

constexpr double kLabelPixelsPerMm = 6;  // at scale 1

/// Writes beside the telling line of each joint, on the strip, as far as there is room; what was picked
/// first. Seen from afar the words would cover the handle.
class LabelPainter {
 public:
  LabelPainter(const FoldCanvas& to, const WayReport& way) : to_(to), way_(way) {}

  void paint(std::vector<SpreadEnd> ends) {
    std::stable_partition(ends.begin(), ends.end(),
                          [&](const SpreadEnd& end) { return picked(end.measure); });
    const bool near = to_.state.frame.pixels_per_mm > kLabelPixelsPerMm * scaled(1);
    for (const SpreadEnd& end : ends)
      if (near || picked(end.measure)) label(end);
  }

 private:
  bool picked(std::size_t m) const { return to_.ui.pointer.finding == end_key(way_.line_up, m); }

  void label(const SpreadEnd& end) {
    const std::size_t m = end.measure;
    const Distribution& spread = way_.samples.measures[m];
    const LengthUnit unit = to_.ui.unit();
    const std::string lines[] = {"95 of 100: " + small_length(spread.size_95, unit),
                                 "over " + small_length(way_.line_up.stack.measures[m].visible, unit) +
                                     " shows: " + percent_words(spread.shows.share)};
    const float width = std::max(tag_size(lines[0]).x, tag_size(lines[1]).x);
    const float row = tag_size(lines[0]).y;
    ImVec2 at = to_.at(end.high);
    at.x += scaled(10);
    if (at.x + width > to_.state.high.x) at.x = to_.at(end.low).x - scaled(10) - width;
    const std::pair<float, float> room{at.x, at.x + width};
    const bool free = std::ranges::none_of(
        taken_, [&](const auto& other) { return room.first < other.second && other.first < room.second; });
    if (!free) return;
    taken_.push_back(room);
    const float inward = end.strip_above ? -1.0F : 1.0F;
    at.y += inward * row * 0.9F;
    for (std::size_t i = 0; i < 2; ++i)
      tag(to_.draw, {at.x, at.y + inward * row * static_cast<float>(inward > 0 ? i : 1 - i)}, lines[i],
          palette().ink, picked(m) ? palette().selected : with_alpha(palette().selected, 0x60));
    places::point("spread", where_words(to_.ui.design(), measure_place(way_.line_up, m)), at);
  }

  const FoldCanvas& to_;
  const WayReport& way_;
  std::vector<std::pair<float, float>> taken_;  ///< from left to right
};

}  // namespace

void paint_spread(const FoldCanvas& to) {
  if (!to.state.spread) return;
  const LineUpShown shown = ask_line_up(to.ui);
  if (!shown.now || !shown.now->problem.empty()) return;
  const WayReport& way = shown.now->report.ways[shown.now->report.chosen];
  if (!way.problem.empty()) return;
  FoldSpread spread = draw_spread(way, to.state.map);
  to.paint(std::move(spread.drawing));
  LabelPainter(to, way).paint(std::move(spread.ends));
}

}  // namespace haftwright::app
