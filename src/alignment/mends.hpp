// What can be done about steps found at a dry fit, each tried on the handle laid out again.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "dry_fit_parts.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright::alignment {

/// A tenth of what shows is kept in hand.
inline constexpr double kTargetShare = 0.9;

/// A step that a mend has to hide.
struct JointStep {
  LinePlace place;
  double step_mm = 0;
  PoseEffect effect;  ///< of the right scale's motion on the step
  double visible_mm = 0;
  std::optional<double> within_mm;  ///< how well it is known; none where it was not read
  std::string words;
  /// As far as it was read.
  bool shows() const;
  /// Known not to show: what it may be off by is allowed for, and an end that was not read is not known.
  bool hides() const;
  /// What it may come to without showing, for certain.
  double room_mm() const { return visible_mm - within_mm.value_or(0); }
};

/// How well the steps of the ends that were read are known. A rear line is known only where it was read:
/// sheets of one thickness differ by as much as shows.
using KnownEnds = std::map<LinePlace, double>;

/// Front and rear lines of the joints that both sides have, at the tang face.
std::vector<JointStep> steps_of(const Design& design, const Handle& handle, const KnownEnds& known);
double greatest_mm(const std::vector<JointStep>& steps);
/// Sets whether the mend hides every step, and the words for it.
void judge_outcome(const std::vector<JointStep>& steps, Mend& mend);

/// A design laid out, or why it can't be.
struct Laid {
  std::optional<Handle> handle;
  std::string problem;
};
Laid laid_out(const Design& design);

/// The handle as it was found.
struct Found {
  const Design& design;
  const Handle& handle;
  KnownEnds known;
  std::vector<JointStep> steps;
};

/// What to read next, so that more is known; empty when nothing would tell more that matters.
std::string decide_words(const Found& found, const std::vector<Mend>& mends);

/// Room of the pins between left and right, taking the pins to be centred now; none less than nothing, since
/// they went in. A hole that was not measured is taken at its smallest: no larger than its drill, since a
/// push that the pins do not allow is found out with glue on the hands.
std::vector<PinClearance> pin_room(const Design& design, const Handle& handle);

/// The right scale pushed to where the steps are least against what shows.
struct Pushed {
  Pose pose;
  double predicted_mm = 0;
  double verified_mm = 0;
  std::vector<JointStep> steps;  ///< those left
  Design design;
  std::optional<Handle> handle;  ///< of that design; always there when a push was found
};
/// Within the pins' room; no pins: freely. No value when the pushed handle can't be laid out; `problem` then
/// says why.
std::optional<Pushed> push_within(const Found& found, const std::vector<PinClearance>& pins,
                                  std::string& problem);

/// How far each pin must be able to leave its hole's middle so that, with the holes of `opened` grown alike
/// and as little as can be, every step comes down to `target` of what shows. No value when it can't.
struct Growth {
  Pose pose;
  double grown_mm = 0;            ///< of the radius of room
  std::vector<double> needed_mm;  ///< a pin each
};
std::optional<Growth> least_growth(const Found& found, const std::vector<PinClearance>& pins,
                                   const std::vector<bool>& opened, double target);
/// The least |step| over what shows that any motion leaves.
double least_share(const Found& found);
/// The set of pins whose holes to open: few, and none of them by much; and by how much.
std::optional<Growth> best_openings(const Found& found, const std::vector<PinClearance>& pins, double target);

/// All that serve; `left_out` tells of those that could not be tried.
std::vector<Mend> mends_for(const Found& found, bool& clearance_is_enough,
                            std::vector<std::string>& left_out);

std::optional<Mend> accept_mend(const Found& found);
std::optional<Mend> open_holes_mend(const Found& found, const std::vector<PinClearance>& pins,
                                    std::string& problem);
std::optional<Mend> next_pins_mend(const Found& found, const std::vector<PinClearance>& pins,
                                   std::string& problem);
std::optional<Mend> face_off_mend(const Found& found, std::string& problem);

// Words.
std::string amount(double mm, const Design& design);
/// "shift the right scale 0.12 mm toward the butt and its butt end 0.05 mm toward the spine".
std::string push_words(const Found& found, const Pose& pose);
/// What speaks against a push, and checks that fail with the mend and did not before.
void add_push_cautions(const Found& found, Mend& mend);
void add_failing_checks(const Found& found, const Handle& mended, Mend& mend);
void add_drilling_cautions(const Found& found, Mend& mend);

}  // namespace haftwright::alignment
