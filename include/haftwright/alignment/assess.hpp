// Will both sides line up? The ways of drilling side by side for one design, and what one change would help.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/alignment/draws.hpp"
#include "haftwright/alignment/ways.hpp"

namespace haftwright {

/// One way of drilling, reckoned for this design.
struct WayReport {
  DrillWay way = DrillWay::by_eye;
  std::string problem;  ///< why this way can't be gone; all else is then empty
  LineUp line_up;
  std::vector<Limits> limits;  ///< one a measure
  Draws draws;
};
WayReport assess_way(const Design& design, const Handle& handle, DrillWay way, const DrawSettings& settings);

/// The measure most likely to show; of equally likely ones that with the largest spread against its limit.
std::size_t worst_measure(const WayReport& report);

/// What makes up the spread of one measure, largest first.
struct SourceShare {
  std::string key;
  std::string words;
  double share = 0;
  std::optional<SourceInfo> info;  ///< none for the play itself
};
std::vector<SourceShare> source_shares(const WayReport& report, std::size_t measure,
                                       const DrawSettings& settings);

/// One change, with its figures reckoned by making it.
struct Change {
  std::string words;  ///< "Make the drill guide 18 mm thick instead of 12 mm"
  Design design;      ///< with the change made
  Chance any_shows;
  Chance no_fit;
  double any_size_95 = 0;
};

struct LineUpReport {
  std::vector<WayReport> ways;      ///< all of them, in the order of way_rows()
  std::size_t chosen = 0;           ///< index of the project's own way
  std::size_t worst = 0;            ///< measure of the chosen way
  std::vector<SourceShare> shares;  ///< of that measure
  /// Those that help, the best first: by the share of handles that show a step or do not go together, in
  /// whole per cents, and by any_size_95 where that is equal. A change that only luck of the draw sets apart
  /// is not among them.
  std::vector<Change> changes;
};

/// Everything at once. Takes `settings.draws` for each way and each change.
LineUpReport assess(const Design& design, const Handle& handle, const DrawSettings& settings);

/// The single changes that may be tried on this design, whether or not they help; see Change. `so_far` is the
/// design's report, all but the changes, reckoned with the same settings.
std::vector<Change> possible_changes(const Design& design, const Handle& handle, const LineUpReport& so_far,
                                     const DrawSettings& settings);

}  // namespace haftwright
