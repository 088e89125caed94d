#include "haftwright/alignment/assess.hpp"

#include <algorithm>
#include <cmath>

#include "haftwright/alignment/telling.hpp"
#include "haftwright/design/validate.hpp"

namespace haftwright {
namespace {

constexpr std::uint64_t kEnoughSamples = 100'000;
constexpr std::uint64_t kEnoughToEase = 4'000;  // sampled anew for each thickness of pin

double against_limit(const WayReport& report, std::size_t measure) {
  const double visible = report.line_up.stack.measures[measure].visible;
  return report.samples.measures[measure].size_95 / std::max(visible, 1e-9);
}

/// Judges changes against how it is now, beyond the luck of sampling.
class Judge {
 public:
  Judge(const Samples& now, const ShopRules& rules) : now_(now), may_bind_(rules.pins_bind_share) {}

  bool helps(const WhatIf& what_if) const {
    if (binds_too_often(what_if) && what_if.no_fit.high >= now_.no_fit.low) return false;
    if (now_.no_fit.share > may_bind_ && !binds_too_often(what_if)) return true;
    const double size = what_if.any_size_95 / std::max(now_.any_size_95, 1e-12);
    return size < 1 - kSameSize || (size <= 1 + kSameSize && what_if.any_shows.high < now_.any_shows.low);
  }
  /// Those whose pins go in come first, then the smallest step.
  bool better(const WhatIf& a, const WhatIf& b) const {
    return std::pair(binds_too_often(a), a.any_size_95) < std::pair(binds_too_often(b), b.any_size_95);
  }

 private:
  static constexpr double kSameSize = 0.02;  // 95-of-100 sizes of a stack lie within 1 % at 20,000 samples
  bool binds_too_often(const WhatIf& what_if) const { return what_if.no_fit.share > may_bind_; }

  const Samples& now_;
  double may_bind_;
};

/// Changes and shares want no more samples than tell them apart, however many are asked for.
SampleSettings kept_short(SampleSettings settings) {
  settings.samples = std::min(settings.samples, kEnoughSamples);
  return settings;
}

void find_interference(WayReport& report, const ShopRules& rules, SampleSettings settings) {
  if (!report.problem.empty() || report.samples.no_fit.share <= rules.pins_bind_share) return;
  settings.samples = std::min(settings.samples, kEnoughToEase);
  report.interference = interference_of(report.line_up.stack, settings, rules.pins_bind_share);
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

WayReport computed(const Design& design, const Handle& handle, DrillWay way, const PlannedGuide& planned,
                   const SampleSettings& settings) {
  WayReport report;
  report.way = way;
  if (way_row(way).through_guide && !planned.guide) {
    report.problem = planned.problem;
    return report;
  }
  report.problem = way_problem(design, way);
  if (!report.problem.empty()) return report;
  report.line_up = line_up(design, handle, way, planned.guide ? &*planned.guide : nullptr);
  const ToleranceStack& stack = report.line_up.stack;
  for (std::size_t m = 0; m < stack.measures.size(); ++m) report.limits.push_back(limits_of(stack, m));
  report.samples = sample(stack, settings);
  report.sampled = settings.samples;
  return report;
}

}  // namespace

WayReport assess_way(const Design& design, const Handle& handle, DrillWay way,
                     const SampleSettings& settings) {
  return computed(design, handle, way,
                  way_row(way).through_guide ? plan_guide(design, handle) : PlannedGuide{}, settings);
}

WayReport assess_own_way(const Design& design, const Handle& handle, const SampleSettings& settings) {
  WayReport report = assess_way(design, handle, design.drilling.way, settings);
  find_interference(report, design.rules, settings);
  return report;
}

std::size_t worst_measure(const WayReport& report) {
  std::size_t worst = 0;
  for (std::size_t m = 1; m < report.samples.measures.size(); ++m) {
    const double shows = report.samples.measures[m].shows.share;
    const double worst_shows = report.samples.measures[worst].shows.share;
    if (shows > worst_shows ||
        (shows == worst_shows && against_limit(report, m) > against_limit(report, worst)))
      worst = m;
  }
  return worst;
}

std::vector<ContributorShare> contributor_shares(const WayReport& report, std::size_t measure,
                                                 const SampleSettings& settings) {
  const ToleranceStack& stack = report.line_up.stack;
  const std::vector<VarianceShare> shares = variance_shares(stack, measure, settings);
  std::vector<ContributorShare> named;
  for (std::size_t s = 0; s < shares.size(); ++s) {
    if (s < stack.contributors.size())
      named.push_back({stack.contributors[s].key, stack.contributors[s].words, shares[s],
                       report.line_up.contributors[s]});
    else
      named.push_back(
          {"clearance", "clearance of the pins in their holes at glue-up", shares[s], std::nullopt});
  }
  std::ranges::stable_sort(named, std::greater<>(),
                           [](const ContributorShare& one) { return one.share.total; });
  return named;
}

LineUpReport assess(const Design& design, const Handle& handle, const SampleSettings& settings) {
  LineUpReport report;
  const PlannedGuide planned = plan_guide(design, handle);  // one for both ways through it
  for (const WayRow& row : way_rows()) {
    if (row.way == design.drilling.way) report.chosen = report.ways.size();
    report.ways.push_back(computed(design, handle, row.way, planned, settings));
  }
  find_interference(report.ways[report.chosen], design.rules, settings);
  const WayReport& now = report.ways[report.chosen];
  if (!now.problem.empty()) return report;
  report.worst = worst_measure(now);
  report.shares = contributor_shares(now, report.worst, kept_short(settings));
  const Judge judge(now.samples, design.rules);
  for (WhatIf& what_if : what_ifs(design, handle, report, kept_short(settings)))
    if (judge.helps(what_if)) report.what_ifs.push_back(std::move(what_if));
  std::ranges::stable_sort(report.what_ifs,
                           [&](const WhatIf& a, const WhatIf& b) { return judge.better(a, b); });
  report.summary = summary_lines(design, report);
  return report;
}

}  // namespace haftwright
