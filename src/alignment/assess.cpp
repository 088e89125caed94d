#include "haftwright/alignment/assess.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/design/validate.hpp"

namespace haftwright {
namespace {

bool wants_guide(DrillWay way) {
  return way == DrillWay::guide || way == DrillWay::guide_pinned;
}

double against_limit(const WayReport& report, std::size_t measure) {
  const double visible = report.line_up.chain.measures[measure].visible;
  return report.draws.measures[measure].size_95 / std::max(visible, 1e-9);
}

/// Handles that show a step or do not go together, in whole per cents: finer than that, draws differ by luck.
double goes_wrong(const Change& change) {
  return std::round(100 * (change.any_shows.share + change.no_fit.share));
}

/// Whether it is better than now by more than luck of the draw.
bool helps(const Change& change, const Draws& now) {
  constexpr double kSizeShare = 0.98;  // 95-of-100 sizes of the same chain lie within 1 % at 20,000 draws
  if (change.any_shows.high + change.no_fit.high < now.any_shows.low + now.no_fit.low) return true;
  const bool worse = change.any_shows.low + change.no_fit.low > now.any_shows.high + now.no_fit.high;
  return !worse && change.any_size_95 < kSizeShare * now.any_size_95;
}

/// The guide, or why there is none.
struct PlannedGuide {
  std::optional<DrillGuide> guide;
  std::string problem;
};

PlannedGuide plan_guide(const Design& design, const Handle& handle) {
  try {
    return {lay_out_guide(design, handle), {}};
  } catch (const InputError& error) {
    return {std::nullopt, "no drill guide can be made: " + error.problems().front().what};
  }
}

WayReport reckon(const Design& design, const Handle& handle, DrillWay way, const PlannedGuide& planned,
                 const DrawSettings& settings) {
  WayReport report;
  report.way = way;
  if (wants_guide(way) && !planned.guide) {
    report.problem = planned.problem;
    return report;
  }
  report.problem = way_problem(design, way);
  if (!report.problem.empty()) return report;
  report.line_up = line_up(design, handle, way, planned.guide ? &*planned.guide : nullptr);
  const Chain& chain = report.line_up.chain;
  for (std::size_t m = 0; m < chain.measures.size(); ++m) report.limits.push_back(limits_of(chain, m));
  report.draws = draw(chain, settings);
  return report;
}

}  // namespace

WayReport assess_way(const Design& design, const Handle& handle, DrillWay way, const DrawSettings& settings) {
  return reckon(design, handle, way, wants_guide(way) ? plan_guide(design, handle) : PlannedGuide{},
                settings);
}

std::size_t worst_measure(const WayReport& report) {
  std::size_t worst = 0;
  for (std::size_t m = 1; m < report.draws.measures.size(); ++m) {
    const double shows = report.draws.measures[m].shows.share;
    const double worst_shows = report.draws.measures[worst].shows.share;
    if (shows > worst_shows ||
        (shows == worst_shows && against_limit(report, m) > against_limit(report, worst)))
      worst = m;
  }
  return worst;
}

std::vector<SourceShare> source_shares(const WayReport& report, std::size_t measure,
                                       const DrawSettings& settings) {
  const Chain& chain = report.line_up.chain;
  const std::vector<double> shares = variance_shares(chain, measure, settings);
  std::vector<SourceShare> named;
  for (std::size_t s = 0; s < shares.size(); ++s) {
    if (s < chain.sources.size())
      named.push_back({chain.sources[s].key, chain.sources[s].words, shares[s], report.line_up.sources[s]});
    else
      named.push_back({"play", "play of the pins in their holes at glue-up", shares[s], std::nullopt});
  }
  std::ranges::stable_sort(named, std::greater<>(), &SourceShare::share);
  return named;
}

LineUpReport assess(const Design& design, const Handle& handle, const DrawSettings& settings) {
  LineUpReport report;
  const PlannedGuide planned = plan_guide(design, handle);  // one for both ways through it
  for (const WayRow& row : way_rows()) {
    if (row.way == design.drilling.way) report.chosen = report.ways.size();
    report.ways.push_back(reckon(design, handle, row.way, planned, settings));
  }
  const WayReport& now = report.ways[report.chosen];
  if (!now.problem.empty()) return report;
  report.worst = worst_measure(now);
  report.shares = source_shares(now, report.worst, settings);
  for (Change& change : possible_changes(design, handle, report, settings))
    if (helps(change, now.draws)) report.changes.push_back(std::move(change));
  std::ranges::stable_sort(report.changes, [](const Change& a, const Change& b) {
    return std::pair(goes_wrong(a), a.any_size_95) < std::pair(goes_wrong(b), b.any_size_95);
  });
  return report;
}

}  // namespace haftwright
