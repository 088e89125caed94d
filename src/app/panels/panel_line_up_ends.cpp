// Each joint end with its step: as laid out, its spread as a picture, and the chance that it shows.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "haftwright/alignment/telling.hpp"
#include "panel_line_up.hpp"
#include "theme.hpp"

namespace haftwright::app {
namespace {

/// A picture of one distribution: columns, the middle, the limits past which it shows, the 95 of 100.
class SpreadPicture {
 public:
  SpreadPicture(const Measure& measure, const Distribution& spread)
      : measure_(measure), spread_(spread), low_(ImGui::GetCursorScreenPos()) {
    width_ = ImGui::GetContentRegionAvail().x;
    height_ = scaled(42);
    reach_ = 1.3 * std::max({std::abs(spread.low_95), std::abs(spread.high_95), measure.visible, 1e-6});
  }

  void paint() const {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(low_, {low_.x + width_, low_.y + height_}, palette().paper, scaled(3));
    columns(draw);
    upright(draw, 0, palette().faint_ink, scaled(1));
    for (const double limit : {-measure_.visible, measure_.visible})
      upright(draw, limit, palette().fail, scaled(1.6F));
    bracket(draw);
    ImGui::Dummy({width_, height_});
  }

 private:
  float at(double value) const {
    return low_.x + width_ * static_cast<float>(std::clamp((value + reach_) / (2 * reach_), 0.0, 1.0));
  }
  float floor() const { return low_.y + height_ - scaled(9); }

  void columns(ImDrawList& draw) const {
    if (spread_.bins.empty()) return;
    const auto most = static_cast<float>(std::max<std::uint64_t>(1, *std::ranges::max_element(spread_.bins)));
    const float room = floor() - low_.y - scaled(3);
    for (std::size_t b = 0; b < spread_.bins.size(); ++b) {
      const double from = spread_.bins_from + static_cast<double>(b) * spread_.bin_width;
      const double until = from + spread_.bin_width;
      if (spread_.bins[b] == 0 || until < -reach_ || from > reach_) continue;
      const bool shows = std::abs(from + until) / 2 > measure_.visible;
      const float rise = room * static_cast<float>(spread_.bins[b]) / most;
      const float left = std::round(at(from));  // no gaps between them
      const float right = std::max(left + 1, std::round(at(until)));
      draw.AddRectFilled({left, floor() - rise}, {right, floor()}, shows ? palette().near : palette().handle);
    }
  }

  void upright(ImDrawList& draw, double value, ImU32 colour, float thick) const {
    draw.AddLine({at(value), low_.y + scaled(2)}, {at(value), floor()}, colour, thick);
  }

  /// 95 of 100 lie between its ends.
  void bracket(ImDrawList& draw) const {
    const float y = low_.y + height_ - scaled(4);
    const float tick = scaled(3);
    const float a = at(spread_.low_95);
    const float b = at(spread_.high_95);
    draw.AddLine({a, y}, {b, y}, palette().ink, scaled(1.6F));
    for (const float x : {a, b}) draw.AddLine({x, y - tick}, {x, y + tick}, palette().ink, scaled(1.6F));
  }

  const Measure& measure_;
  const Distribution& spread_;
  ImVec2 low_;
  float width_ = 0;
  float height_ = 0;
  double reach_ = 1;
};

std::string end_tip(const Ui& ui, const WayReport& way, std::size_t m) {
  const Measure& measure = way.line_up.stack.measures[m];
  const Distribution& spread = way.samples.measures[m];
  const auto amount = [&](double value) { return measure_amount(value, measure.kind, ui.unit()); };
  return where_words(ui.design(), measure_place(way.line_up, m)) + "\nShows in " +
         percent_words(spread.shows.share) + " (between " + percent_words(spread.shows.low) + " and " +
         percent_words(spread.shows.high) + ", 95 % sure): it is then more than " + amount(measure.visible) +
         " (upright lines).\n95 of 100 lie from " + amount(spread.low_95) + " to " + amount(spread.high_95) +
         " (line below).\nRoot of the sum of the squares: " + amount(way.limits[m].rss) +
         ". All at their worst at once: " + amount(way.limits[m].worst) + ", " +
         amount(way.limits[m].clearance) +
         " of it by the pins' clearance.\nClick to see it in the fold view.";
}

void end_content(const Ui& ui, const WayReport& way, std::size_t m) {
  const Measure& measure = way.line_up.stack.measures[m];
  const Distribution& spread = way.samples.measures[m];
  const auto amount = [&](double value) { return measure_amount(value, measure.kind, ui.unit()); };
  wrapped(where_words(ui.design(), measure_place(way.line_up, m)));
  SpreadPicture(measure, spread).paint();
  ImGui::PushFont(bold_font());
  wrapped("shows in " + percent_words(spread.shows.share));
  ImGui::PopFont();
  wrapped("as laid out " + amount(measure.nominal) + ", 95 of 100 within " + amount(spread.size_95) +
              ", at worst " + amount(way.limits[m].worst),
          true);
}

void turn_fold_to(const Ui& ui, const WayReport& way, std::size_t m, FoldShow& fold) {
  const MeetingPlace& place = way.line_up.places[way.line_up.measures[m].place];
  fold.about = place.edge == HandleEdge::spine ? FoldAbout::spine : FoldAbout::belly;
  fold.spread = true;
  const Vec3& at = place.left.at;
  fold.turn_to = {{FoldRegion::left_face, at.x, at.y}, {FoldRegion::edge_strip, at.x, at.z}};
  ui.pointer = {end_key(way.line_up, m), at, true};
}

}  // namespace

void line_up_ends(const Ui& ui, const WayReport& way, FoldShow& fold) {
  std::vector<std::size_t> telling = telling_measures(way);
  std::ranges::stable_sort(telling, std::greater{},
                           [&](std::size_t m) { return way.samples.measures[m].shows.share; });
  for (const std::size_t m : telling) {
    const bool chosen = ui.pointer.finding == end_key(way.line_up, m);
    if (!card("end", where_words(ui.design(), measure_place(way.line_up, m)), chosen, end_tip(ui, way, m),
              [&] { end_content(ui, way, m); }))
      continue;
    if (chosen)
      ui.pointer = {};
    else
      turn_fold_to(ui, way, m, fold);
  }
}

}  // namespace haftwright::app
