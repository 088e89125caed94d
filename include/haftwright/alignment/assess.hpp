// Will both sides line up? The ways of drilling side by side for one design, and what one change would do.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/alignment/ways.hpp"
#include "haftwright/tolerance/sampling.hpp"

namespace haftwright {

/// One way of drilling, computed for this design.
struct WayReport {
  DrillWay way = DrillWay::by_eye;
  std::string problem;  ///< why this way can't be gone; all else is then empty
  LineUp line_up;
  std::vector<Limits> limits;  ///< one a measure
  Samples samples;
  std::uint64_t sampled = 0;  ///< handles
  std::optional<Interference>
      interference;  ///< of the design's own way, where pins bind more often than the shop allows
};
WayReport assess_way(const Design& design, const Handle& handle, DrillWay way,
                     const SampleSettings& settings);
/// The design's own way, with `interference`.
WayReport assess_own_way(const Design& design, const Handle& handle, const SampleSettings& settings);

/// The measure most likely to show; of equally likely ones that with the largest spread against its limit.
std::size_t worst_measure(const WayReport& report);

/// What makes up the spread of one measure, largest total first.
struct ContributorShare {
  std::string key;
  std::string words;
  VarianceShare share;
  std::optional<ContributorInfo> info;  ///< none for the clearance itself
};
std::vector<ContributorShare> contributor_shares(const WayReport& report, std::size_t measure,
                                                 const SampleSettings& settings);

/// One change, with its figures computed by making it.
struct WhatIf {
  std::string words;  ///< "Make the drill guide 18 mm thick instead of 12 mm"
  Design design;      ///< with the change made
  Chance any_shows;
  Chance no_fit;
  double any_size_95 = 0;
};

struct SummaryLine {
  std::string_view label;  ///< "Worst place"
  std::string text;
};

struct LineUpReport {
  std::vector<WayReport> ways;           ///< all of them, in the order of way_rows()
  std::size_t chosen = 0;                ///< index of the project's own way
  std::size_t worst = 0;                 ///< measure of the chosen way
  std::vector<ContributorShare> shares;  ///< of that measure
  /// Those that help, the best first: by any_size_95, those whose pins bind more often than the shop allows
  /// after all others. A change that only the luck of sampling sets apart is not among them, nor one that
  /// leaves the step and only moves what is called visible.
  std::vector<WhatIf> what_ifs;
  /// The whole in four lines: the step to expect, the worst place and its main cause, the best change and
  /// what it brings, whether the pins go in. None where the way can't be used.
  std::vector<SummaryLine> summary;
};

/// Everything at once. Takes `settings.samples` for each way, and at most 100,000 for each change and for
/// shares.
LineUpReport assess(const Design& design, const Handle& handle, const SampleSettings& settings);

/// The single changes that may be tried on this design, whether or not they help; see WhatIf. `so_far` is the
/// design's report, all but the changes, computed with the same settings.
std::vector<WhatIf> what_ifs(const Design& design, const Handle& handle, const LineUpReport& so_far,
                             const SampleSettings& settings);

}  // namespace haftwright
