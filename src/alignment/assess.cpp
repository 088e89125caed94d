#include "haftwright/alignment/assess.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/alignment/telling.hpp"
#include "haftwright/design/validate.hpp"

namespace haftwright {
namespace {

constexpr std::uint64_t kEnoughDraws = 100'000;
constexpr std::uint64_t kEnoughToEase = 4'000;  // drawn anew for each thickness of pin

bool wants_guide(DrillWay way) {
  return way == DrillWay::guide || way == DrillWay::guide_pinned;
}

double against_limit(const WayReport& report, std::size_t measure) {
  const double visible = report.line_up.chain.measures[measure].visible;
  return report.draws.measures[measure].size_95 / std::max(visible, 1e-9);
}

/// Judges changes against how it is now, beyond luck of the draw.
class Judge {
 public:
  Judge(const Draws& now, const ShopRules& rules) : now_(now), may_bind_(rules.pins_bind_share) {}

  bool helps(const Change& change) const {
    if (binds_too_often(change) && change.no_fit.high >= now_.no_fit.low) return false;
    if (now_.no_fit.share > may_bind_ && !binds_too_often(change)) return true;
    const double size = change.any_size_95 / std::max(now_.any_size_95, 1e-12);
    return size < 1 - kSameSize || (size <= 1 + kSameSize && change.any_shows.high < now_.any_shows.low);
  }
  /// Those whose pins go in come first, then the smallest step.
  bool better(const Change& a, const Change& b) const {
    return std::pair(binds_too_often(a), a.any_size_95) < std::pair(binds_too_often(b), b.any_size_95);
  }

 private:
  static constexpr double kSameSize = 0.02;  // 95-of-100 sizes of a chain lie within 1 % at 20,000 draws
  bool binds_too_often(const Change& change) const { return change.no_fit.share > may_bind_; }

  const Draws& now_;
  double may_bind_;
};

/// Changes and shares want no more draws than tell them apart, however many are asked for.
DrawSettings kept_short(DrawSettings settings) {
  settings.draws = std::min(settings.draws, kEnoughDraws);
  return settings;
}

void find_binding(WayReport& report, const ShopRules& rules, DrawSettings settings) {
  if (!report.problem.empty() || report.draws.no_fit.share <= rules.pins_bind_share) return;
  settings.draws = std::min(settings.draws, kEnoughToEase);
  report.binding = binding_of(report.line_up.chain, settings, rules.pins_bind_share);
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
  report.drawn = settings.draws;
  return report;
}

}  // namespace

WayReport assess_way(const Design& design, const Handle& handle, DrillWay way, const DrawSettings& settings) {
  return reckon(design, handle, way, wants_guide(way) ? plan_guide(design, handle) : PlannedGuide{},
                settings);
}

WayReport assess_own_way(const Design& design, const Handle& handle, const DrawSettings& settings) {
  WayReport report = assess_way(design, handle, design.drilling.way, settings);
  find_binding(report, design.rules, settings);
  return report;
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
  const std::vector<VarianceShare> shares = variance_shares(chain, measure, settings);
  std::vector<SourceShare> named;
  for (std::size_t s = 0; s < shares.size(); ++s) {
    if (s < chain.sources.size())
      named.push_back({chain.sources[s].key, chain.sources[s].words, shares[s], report.line_up.sources[s]});
    else
      named.push_back({"play", "play of the pins in their holes at glue-up", shares[s], std::nullopt});
  }
  std::ranges::stable_sort(named, std::greater<>(), [](const SourceShare& one) { return one.share.total; });
  return named;
}

LineUpReport assess(const Design& design, const Handle& handle, const DrawSettings& settings) {
  LineUpReport report;
  const PlannedGuide planned = plan_guide(design, handle);  // one for both ways through it
  for (const WayRow& row : way_rows()) {
    if (row.way == design.drilling.way) report.chosen = report.ways.size();
    report.ways.push_back(reckon(design, handle, row.way, planned, settings));
  }
  find_binding(report.ways[report.chosen], design.rules, settings);
  const WayReport& now = report.ways[report.chosen];
  if (!now.problem.empty()) return report;
  report.worst = worst_measure(now);
  report.shares = source_shares(now, report.worst, kept_short(settings));
  const Judge judge(now.draws, design.rules);
  for (Change& change : possible_changes(design, handle, report, kept_short(settings)))
    if (judge.helps(change)) report.changes.push_back(std::move(change));
  std::ranges::stable_sort(report.changes,
                           [&](const Change& a, const Change& b) { return judge.better(a, b); });
  report.summary = summary_lines(design, report);
  return report;
}

}  // namespace haftwright
