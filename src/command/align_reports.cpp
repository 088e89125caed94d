// What `align` prints.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "align_reports.hpp"
#include "haftwright/alignment/telling.hpp"
#include "text_shapes.hpp"

namespace haftwright::command {
namespace {

using Json = nlohmann::ordered_json;

std::string amount(double value, Measure::Kind kind, LengthUnit unit) {
  return kind == Measure::Kind::angle_deg ? format_number(value, 2) + " deg" : fine_length(value, unit);
}

std::string ways_text(const Design& design, const LineUpReport& report) {
  std::string out = "  " + padded("way of drilling", 42) + right_aligned("a step shows", 14) +
                    right_aligned("95 of 100 within", 18) + right_aligned("pins bind", 12) + "\n";
  for (std::size_t i = 0; i < report.ways.size(); ++i) {
    const WayReport& way = report.ways[i];
    out += (i == report.chosen ? "> " : "  ") + padded(std::string(drilling_words(way.way)), 42);
    if (way.problem.empty())
      out += right_aligned(percent_words(way.samples.any_shows.share), 14) +
             right_aligned(fine_length(way.samples.any_size_95, design.shown_unit), 18) +
             right_aligned(percent_words(way.samples.no_fit.share), 12) + "\n";
    else
      out += "  " + way.problem + "\n";
  }
  return out;
}

std::string measures_text(const Design& design, const WayReport& way) {
  const LengthUnit unit = design.shown_unit;
  std::string out = "  " + padded("place", 50) + right_aligned("as laid out", 12) +
                    right_aligned("95 of 100", 12) + right_aligned("rss", 12) +
                    right_aligned("at worst", 12) + right_aligned("shows", 9) + "\n";
  for (const std::size_t m : telling_measures(way)) {
    const Measure& measure = way.line_up.stack.measures[m];
    const Distribution& spread = way.samples.measures[m];
    const auto cell = [&](double value) { return right_aligned(amount(value, measure.kind, unit), 12); };
    out += "  " + padded(where_words(design, measure_place(way.line_up, m)), 50) + cell(measure.nominal) +
           cell(spread.size_95) + cell(way.limits[m].rss) + cell(way.limits[m].worst) +
           right_aligned(percent_words(spread.shows.share), 9) + "\n";
  }
  return out;
}

std::string shares_text(const Design& design, const LineUpReport& report) {
  const WayReport& way = report.ways[report.chosen];
  constexpr double kLeastShare = 0.005;
  std::string out = "What makes up the spread at " +
                    where_words(design, measure_place(way.line_up, report.worst)) +
                    ": each by itself, and with what it does together with others\n";
  for (const ContributorShare& source : report.shares)
    if (source.share.total >= kLeastShare)
      out += wrapped(right_aligned(percent_words(source.share.alone), 7) +
                         right_aligned(percent_words(source.share.total), 8) + "  " + source.words +
                         (source.info ? " (" + words_of(*source.info, design.shown_unit) + ")" : ""),
                     "  ");
  return out;
}

std::string changes_text(const Design& design, const LineUpReport& report) {
  if (report.what_ifs.empty()) return "No single change that was tried would make it better.\n";
  const Samples& now = report.ways[report.chosen].samples;
  const auto row = [&](double size, const Chance& shows, const Chance& binds, const std::string& words) {
    return right_aligned(fine_length(size, design.shown_unit), 12) +
           right_aligned(percent_words(shows.share), 14) + right_aligned(percent_words(binds.share), 12) +
           "  " + words + "\n";
  };
  std::string out =
      "What one change would do: the smallest step first, changes with which pins bind too often last\n";
  out += right_aligned("95 of 100", 12) + right_aligned("a step shows", 14) + right_aligned("pins bind", 12) +
         "\n" + row(now.any_size_95, now.any_shows, now.no_fit, "as it is now");
  for (const WhatIf& change : report.what_ifs)
    out += row(change.any_size_95, change.any_shows, change.no_fit, change.words);
  return out;
}

Json chance_json(const Chance& chance) {
  return {{"share", chance.share}, {"low", chance.low}, {"high", chance.high}};
}

Json measure_json(const Design& design, const WayReport& way, std::size_t m) {
  const Measure& measure = way.line_up.stack.measures[m];
  const MeasureInfo& info = way.line_up.measures[m];
  const MeetingPlace& place = way.line_up.places[info.place];
  const Distribution& spread = way.samples.measures[m];
  Json json{{"where", where_words(design, measure_place(way.line_up, m))},
            {"joint", place.joint ? Json(*place.joint + 1) : Json(nullptr)},
            {"line", place.line + 1},
            {"edge", name_of(place.edge)},
            {"surface", place.surface},
            {"unit", measure.kind == Measure::Kind::step_mm ? "mm" : "deg"},
            {"nominal", measure.nominal},
            {"visible", measure.visible},
            {"worst", way.limits[m].worst},
            {"rss", way.limits[m].rss},
            {"clearance", way.limits[m].clearance},
            {"mean", spread.mean},
            {"deviation", spread.deviation},
            {"low_95", spread.low_95},
            {"high_95", spread.high_95},
            {"size_95", spread.size_95},
            {"shows", chance_json(spread.shows)}};
  return json;
}

Json way_json(const Design& design, const WayReport& way) {
  Json json{{"way", way_row(way.way).key}, {"title", drilling_words(way.way)}};
  if (!way.problem.empty()) {
    json["problem"] = way.problem;
    return json;
  }
  json["any_shows"] = chance_json(way.samples.any_shows);
  json["no_fit"] = chance_json(way.samples.no_fit);
  json["any_size_95_mm"] = way.samples.any_size_95;
  json["measures"] = Json::array();
  for (std::size_t m = 0; m < way.line_up.measures.size(); ++m)
    json["measures"].push_back(measure_json(design, way, m));
  return json;
}

}  // namespace

std::string line_up_text(const Design& design, const LineUpReport& report) {
  const WayReport& way = report.ways[report.chosen];
  constexpr std::size_t kLabel = 13;
  const std::string name = design.name.empty() ? std::string("Handle") : design.name;
  std::string out =
      name + ": will both sides line up, drilled your way (" + std::string(drilling_words(way.way)) + ")?\n";
  for (const SummaryLine& line : report.summary)
    out += "  " + padded(std::string(line.label), kLabel) +
           wrapped(line.text, std::string(kLabel + 2, ' ')).substr(kLabel + 2);
  return out;
}

std::string line_up_full_text(const Design& design, const LineUpReport& report,
                              const SampleSettings& settings) {
  const WayReport& way = report.ways[report.chosen];
  std::string out =
      wrapped("Each way of drilling, sampled over " + std::to_string(settings.samples) + " handles (seed " +
                  std::to_string(settings.seed) + "). A step of more than " +
                  fine_length(design.rules.joint_step_mm, design.shown_unit) +
                  " shows; how far things are off in your shop stands under \"drilling\" in the project.",
              "");
  out += "\n" + ways_text(design, report);
  if (!way.problem.empty()) return out;
  const Chance& shows = way.samples.any_shows;
  out +=
      wrapped("With your way some step or angle shows in " + percent_words(shows.share) +
                  " of handles (between " + percent_words(shows.low) + " and " + percent_words(shows.high) +
                  ", 95 % sure). Where pins bind the steps are those of holes opened just enough.",
              "");
  return out + "\n" + measures_text(design, way) + "\n" + shares_text(design, report) + "\n" +
         changes_text(design, report);
}

Json line_up_json(const Design& design, const LineUpReport& report, const SampleSettings& settings) {
  Json json{{"samples", settings.samples}, {"seed", settings.seed}, {"confidence", settings.confidence}};
  json["chosen"] = way_row(report.ways[report.chosen].way).key;
  json["ways"] = Json::array();
  for (const WayReport& way : report.ways) json["ways"].push_back(way_json(design, way));
  if (!report.ways[report.chosen].problem.empty()) return json;
  json["summary"] = Json::array();
  for (const SummaryLine& line : report.summary)
    json["summary"].push_back({{"label", line.label}, {"text", line.text}});
  json["worst"] = where_words(design, measure_place(report.ways[report.chosen].line_up, report.worst));
  json["shares"] = Json::array();
  for (const ContributorShare& source : report.shares) {
    json["shares"].push_back({{"contributor", source.key},
                              {"words", source.words},
                              {"share", source.share.alone},
                              {"total", source.share.total}});
    if (!source.info) continue;
    json["shares"].back()["size"] = source.info->size;
    json["shares"].back()["unit"] = source.info->unit;
    json["shares"].back()["distribution"] =
        source.info->shape == DistributionShape::normal ? "normal" : "even";
    json["shares"].back()["shared"] = words_of(source.info->sharing);
  }
  json["what_ifs"] = Json::array();
  for (const WhatIf& change : report.what_ifs)
    json["what_ifs"].push_back({{"change", change.words},
                                {"any_shows", chance_json(change.any_shows)},
                                {"no_fit", chance_json(change.no_fit)},
                                {"any_size_95_mm", change.any_size_95}});
  return json;
}

}  // namespace haftwright::command
