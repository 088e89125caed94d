#include "haftwright/alignment/telling.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "mends.hpp"

namespace haftwright {
namespace {

using alignment::amount;

/// " (to 3.08 mm)" where that is one size or two.
std::string thinned_words(const Design& design, double thinner_mm) {
  std::string sizes;
  std::set<double> told;
  for (const Pin& pin : design.pins)
    if (told.insert(pin.stock.diameter_mm()).second)
      sizes += (sizes.empty() ? "" : " and ") + amount(pin.stock.diameter_mm() - thinner_mm, design);
  return told.size() > 2 ? "" : " (to " + sizes + ")";
}

/// "2 of 10"; what rounds to none or all is told in per cent.
std::string of_ten_words(double share) {
  const double ten = std::round(share * 10);
  if (ten < 1 || ten > 9) return percent_words(share);
  return "about " + format_number(ten, 0) + " of 10";
}

std::string step_words(const Design& design, const Samples& samples) {
  return "95 of 100 handles have none over " + amount(samples.any_size_95, design) + "; " +
         of_ten_words(samples.any_shows.share) + " show one (over " +
         amount(design.rules.joint_step_mm, design) + ", or " +
         format_number(design.rules.joint_angle_deg, 2) + " deg)";
}

std::string worst_words(const Design& design, const LineUpReport& report) {
  const WayReport& way = report.ways[report.chosen];
  std::string words = where_words(design, measure_place(way.line_up, report.worst)) + ", shows in " +
                      percent_words(way.samples.measures[report.worst].shows.share);
  if (!report.shares.empty() && report.shares.front().share.total > 0)
    words += "; mainly from: " + report.shares.front().words;
  return words;
}

std::string change_words(const Design& design, const LineUpReport& report) {
  if (report.what_ifs.empty()) return "none of those tried would make it better";
  const WhatIf& best = report.what_ifs.front();
  const Samples& now = report.ways[report.chosen].samples;
  const std::string then = amount(best.any_size_95, design), before = amount(now.any_size_95, design);
  return best.words + ": " + (then == before ? "hardly less than " : then + " instead of ") + before +
         ", shows in " + percent_words(best.any_shows.share) + ", pins bind in " +
         percent_words(best.no_fit.share);
}

}  // namespace

std::string pins_words(const Design& design, const WayReport& way) {
  std::string words = "In " + percent_words(way.samples.no_fit.share) +
                      " of handles some pin does not go into all its holes.";
  if (!way.interference) return words;
  words += " Of these, half lack " + amount(way.interference->typical_mm, design) + " or more.";
  if (!way.interference->thinner_mm)
    return words + " No pin is thin enough to help: the holes are too far off.";
  const double thinner = *way.interference->thinner_mm;
  return words + " With all pins sanded " + amount(thinner, design) + " thinner" +
         thinned_words(design, thinner) + ", or all their holes opened by as much, no more than " +
         percent_words(way.interference->limit) + " bind.";
}

std::vector<SummaryLine> summary_lines(const Design& design, const LineUpReport& report) {
  const WayReport& way = report.ways[report.chosen];
  if (!way.problem.empty()) return {};
  return {{"Step", step_words(design, way.samples)},
          {"Worst place", worst_words(design, report)},
          {"Best change", change_words(design, report)},
          {"Pins", design.pins.empty() ? "There is no pin: nothing holds the scales while the glue cures."
                                       : pins_words(design, way)}};
}

Where measure_place(const LineUp& line_up, std::size_t measure) {
  const MeasureInfo& info = line_up.measures[measure];
  Spot spot = line_up.places[info.place].spot;
  if (info.kind != Measure::Kind::step_mm) {
    spot.level.reset();
    spot.aspect = Aspect::angle;
  }
  return {spot};
}

std::vector<std::size_t> telling_measures(const WayReport& way) {
  std::vector<std::size_t> telling;
  const auto same_end = [&](std::size_t a, std::size_t b) {
    const MeasureInfo& first = way.line_up.measures[a];
    const MeasureInfo& second = way.line_up.measures[b];
    const MeetingPlace& place = way.line_up.places[first.place];
    const MeetingPlace& other = way.line_up.places[second.place];
    return first.kind == second.kind && place.joint == other.joint && place.edge == other.edge &&
           place.surface == other.surface;
  };
  for (std::size_t m = 0; m < way.line_up.measures.size(); ++m) {
    const auto found = std::ranges::find_if(telling, [&](std::size_t t) { return same_end(t, m); });
    if (found == telling.end())
      telling.push_back(m);
    else if (way.samples.measures[m].size_95 > way.samples.measures[*found].size_95)
      *found = m;
  }
  return telling;
}

}  // namespace haftwright
