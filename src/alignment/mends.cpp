#include "mends.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

#include "haftwright/design/validate.hpp"
#include "haftwright/edits/corrections.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "pin_holes.hpp"

namespace haftwright::alignment {
namespace {

/// Steps are held against what shows; in these units a step that just shows is this large.
constexpr double kShowsMm = 0.1;
constexpr double kLeastVisibleMm = 0.01;
constexpr double kSameMm = 1e-7;

double weight(const JointStep& step) {
  return 1 / std::max(step.room_mm(), kLeastVisibleMm);
}

/// The steps as functions of the right scale's whole motion, given where `pose` has brought them.
std::vector<Step> in_shares(const std::vector<JointStep>& steps, const Pose& pose) {
  std::vector<Step> made;
  for (const JointStep& step : steps) {
    const double scale = kShowsMm * weight(step);
    made.push_back({(step.step_mm - step.effect.of(pose)) * scale,
                    {step.effect.along * scale, step.effect.turn_mm * scale}});
  }
  return made;
}

double step_after_mm(const std::vector<JointStep>& steps, const Pose& from, const Pose& to) {
  double greatest = 0;
  for (const JointStep& step : steps)
    greatest = std::max(greatest, std::abs(step.step_mm - step.effect.of(from) + step.effect.of(to)));
  return greatest;
}

/// Greatest step over what shows, with these pins; no value when they fit nowhere.
std::optional<double> share_with(const Found& found, const std::vector<PinClearance>& pins) {
  const auto best = smallest_steps(pins, in_shares(found.steps, {}));
  return best ? std::optional(best->greatest_mm / kShowsMm) : std::nullopt;
}

std::vector<PinClearance> without(const std::vector<PinClearance>& pins, const std::vector<bool>& opened) {
  std::vector<PinClearance> kept;
  for (std::size_t i = 0; i < pins.size(); ++i)
    if (!opened[i]) kept.push_back(pins[i]);
  return kept;
}

bool serves(const Found& found, const std::vector<PinClearance>& pins, const std::vector<bool>& opened,
            double target) {
  const auto share = share_with(found, without(pins, opened));
  return share && *share <= target;
}

}  // namespace

bool JointStep::shows() const {
  return within_mm && std::abs(step_mm) > visible_mm + kSameMm;
}

bool JointStep::hides() const {
  return within_mm && std::abs(step_mm) <= room_mm() + kSameMm;
}

void judge_outcome(const std::vector<JointStep>& steps, Mend& mend) {
  mend.hides = std::ranges::all_of(steps, &JointStep::hides);
  const auto unread = std::ranges::find_if(steps, [](const JointStep& step) { return !step.within_mm; });
  if (mend.hides)
    mend.outcome = "which does not show";
  else if (std::ranges::any_of(steps, &JointStep::shows))
    mend.outcome = "which still shows";
  else if (unread != steps.end())
    mend.outcome = "but " + unread->words + ", was not read: what shows there is not known";
  else
    mend.outcome = "which may show: the readings leave too much in doubt";
}

std::string decide_words(const Found& found, const std::vector<Mend>& mends) {
  const auto unread =
      std::ranges::find_if(found.steps, [](const JointStep& step) { return !step.within_mm; });
  if (unread != found.steps.end())
    return "Read " + unread->words +
           ", on both sides, before you glue or cut: until then nobody knows whether a step shows there.";
  if (std::ranges::any_of(mends, &Mend::hides) || std::ranges::any_of(found.steps, &JointStep::shows))
    return {};
  const auto doubtful =
      std::ranges::find_if(found.steps, [](const JointStep& step) { return !step.hides(); });
  if (doubtful == found.steps.end()) return {};
  return "Read " + doubtful->words +
         ", once more, or the step itself across the tang: it is known to within " +
         amount(*doubtful->within_mm, found.design) + " only, and more than " +
         amount(doubtful->visible_mm, found.design) + " shows.";
}

std::vector<JointStep> steps_of(const Design& design, const Handle& handle, const KnownEnds& known) {
  std::vector<JointStep> steps;
  for (const MeetingPlace& place : meeting_places(design, handle)) {
    if (!place.joint || place.surface) continue;
    const std::size_t left = handle.left.joints[*place.joint].lines.size();
    const std::size_t right = handle.right.joints[*place.joint].lines.size();
    const bool rear = place.line > 0;
    if (rear && (left != right || place.line + 1 < left)) continue;
    const LinePlace line{*place.joint, rear ? StripEdge::rear : StripEdge::front, place.edge};
    const auto within = known.find(line);
    steps.push_back({line,
                     place.nominal_mm,
                     {-place.right.pose.along, -place.right.pose.turn_mm},
                     place.visible_mm,
                     within == known.end() ? std::nullopt : std::optional(within->second),
                     place_words(line, left > 1)});
  }
  return steps;
}

double greatest_mm(const std::vector<JointStep>& steps) {
  double greatest = 0;
  for (const JointStep& step : steps) greatest = std::max(greatest, std::abs(step.step_mm));
  return greatest;
}

Laid laid_out(const Design& design) {
  const std::vector<Problem> problems = validate(design);
  if (!problems.empty()) return {std::nullopt, problems.front().field + " " + problems.front().what + "."};
  try {
    return {lay_out(design), {}};
  } catch (const InputError& error) {
    return {std::nullopt, error.problems().front().what + "."};
  }
}

std::vector<PinClearance> pin_room(const Design& design, const Handle& handle) {
  std::vector<PinClearance> pins;
  for (const Pin& pin : design.pins) {
    double room = -pin.stock.diameter_mm();
    for (const Which side : {Which::left, Which::right})
      room += smallest_hole_mm(tighter_hole(handle, pin, side)) / 2;
    pins.push_back({.at_mm = pin.at_mm, .radius_mm = std::max(0.0, room)});
  }
  return pins;
}

std::optional<Pushed> push_within(const Found& found, const std::vector<PinClearance>& pins,
                                  std::string& problem) {
  // A joint's end goes along a curved edge: compute anew from where it has come to.
  constexpr int kMostRounds = 5;
  constexpr double kAgreesMm = 1e-7;
  Pushed pushed;
  std::vector<JointStep> steps = found.steps;
  for (int round = 0; round < kMostRounds; ++round) {
    const auto best = smallest_steps(pins, in_shares(steps, pushed.pose));
    if (!best) {
      problem = "no place lets every pin into its holes.";
      return std::nullopt;
    }
    pushed.predicted_mm = step_after_mm(steps, pushed.pose, best->pose);
    pushed.pose = best->pose;
    pushed.design = *move_right_joints(found.design, pushed.pose);
    Laid laid = laid_out(pushed.design);
    if (!laid.handle) {
      problem = laid.problem;
      return std::nullopt;
    }
    pushed.handle = std::move(laid.handle);
    steps = steps_of(pushed.design, *pushed.handle, found.known);
    pushed.verified_mm = greatest_mm(steps);
    if (std::abs(pushed.verified_mm - pushed.predicted_mm) < kAgreesMm) break;
  }
  pushed.steps = std::move(steps);
  return pushed;
}

double least_share(const Found& found) {
  return share_with(found, {}).value_or(0);
}

std::optional<Growth> least_growth(const Found& found, const std::vector<PinClearance>& pins,
                                   const std::vector<bool>& opened, double target) {
  constexpr double kMostMm = 4;
  constexpr double kCloseMm = 1e-5;
  if (!serves(found, pins, opened, target)) return std::nullopt;
  const auto grown = [&](double by) {
    std::vector<PinClearance> roomier = pins;
    for (std::size_t i = 0; i < pins.size(); ++i)
      if (opened[i]) roomier[i].radius_mm += by;
    return roomier;
  };
  const auto enough = [&](double by) {
    const auto share = share_with(found, grown(by));
    return share && *share <= target;
  };
  double low = 0, high = 0.05;
  while (!enough(high)) {
    low = high;
    high *= 2;
    if (high > kMostMm) return std::nullopt;
  }
  while (high - low > kCloseMm) {
    const double middle = (low + high) / 2;
    (enough(middle) ? high : low) = middle;
  }
  Growth growth{.grown_mm = high};
  growth.pose = smallest_steps(grown(high), in_shares(found.steps, {}))->pose;
  for (const PinClearance& pin : pins)
    growth.needed_mm.push_back(glm::length(growth.pose.motion_of(pin.at_mm)));
  return growth;
}

std::optional<Growth> best_openings(const Found& found, const std::vector<PinClearance>& pins,
                                    double target) {
  constexpr std::size_t kAllSetsUpTo = 6;  // beyond that, whichever can be spared are dropped one by one
  const std::size_t count = pins.size();
  if (count > kAllSetsUpTo) {
    std::vector<bool> opened(count, true);
    for (std::size_t i = 0; i < count; ++i) {
      opened[i] = false;
      if (!serves(found, pins, opened, target)) opened[i] = true;
    }
    return least_growth(found, pins, opened, target);
  }
  // One hole more is worth opening where it saves so much of the others.
  constexpr double kWorthAHoleMm = 0.05;
  std::optional<Growth> best;
  double best_cost = 0;
  for (unsigned set = 1; set < (1u << count); ++set) {
    std::vector<bool> opened(count);
    for (std::size_t i = 0; i < count; ++i) opened[i] = (set >> i & 1u) != 0;
    auto growth = least_growth(found, pins, opened, target);
    if (!growth) continue;
    const double cost = growth->grown_mm + kWorthAHoleMm * std::popcount(set);
    if (!best || cost < best_cost) best = std::move(growth), best_cost = cost;
  }
  return best;
}

std::optional<Mend> accept_mend(const Found& found) {
  if (!std::ranges::all_of(found.steps, &JointStep::hides)) return std::nullopt;
  const auto worst = std::ranges::max_element(
      found.steps, {}, [](const JointStep& step) { return std::abs(step.step_mm) * weight(step); });
  Mend mend{.kind = MendKind::accept, .mended = *drop_readings(found.design)};
  mend.words = "Glue it as it is: the greatest step is " + amount(std::abs(worst->step_mm), found.design) +
               " (" + worst->words + "), known to within " + amount(*worst->within_mm, found.design) +
               ", and up to " + amount(worst->visible_mm, found.design) + " is not seen there.";
  mend.predicted_mm = greatest_mm(found.steps);
  mend.verified_mm = greatest_mm(found.steps);
  judge_outcome(found.steps, mend);
  return mend;
}

std::vector<Mend> mends_for(const Found& found, bool& clearance_is_enough,
                            std::vector<std::string>& left_out) {
  constexpr double kWorthwhileMm = 0.005;
  std::vector<Mend> mends;
  std::string problem;
  const auto add = [&](std::optional<Mend> mend, const std::string& what) {
    if (mend) mends.push_back(*std::move(mend));
    if (!problem.empty()) left_out.push_back(what + " is left out: " + problem);
    problem.clear();
  };
  const std::vector<PinClearance> pins = pin_room(found.design, found.handle);
  add(accept_mend(found), "Accepting");
  const auto pushed = push_within(found, pins, problem);
  clearance_is_enough = pushed && std::ranges::all_of(pushed->steps, &JointStep::hides);
  std::optional<Mend> push;
  if (pushed && greatest_mm(found.steps) - pushed->verified_mm > kWorthwhileMm) {
    push = Mend{.kind = MendKind::push, .push = pushed->pose, .mended = pushed->design};
    push->words = "Before the glue sets, " + push_words(found, pushed->pose) + ".";
    push->predicted_mm = pushed->predicted_mm;
    push->verified_mm = pushed->verified_mm;
    judge_outcome(pushed->steps, *push);
    add_push_cautions(found, *push);
    add_failing_checks(found, *pushed->handle, *push);
  }
  add(std::move(push), "Pushing the scale");
  // What can't be undone waits until every edge is known.
  const bool all_known =
      std::ranges::all_of(found.steps, [](const JointStep& step) { return step.within_mm.has_value(); });
  if (all_known && (mends.empty() || !mends.front().hides)) {
    if (!clearance_is_enough && least_share(found) > kTargetShare) {
      left_out.emplace_back(
          "Opening holes and taking thicker pins are left out: wherever the right scale is pushed, lines "
          "miss each other by as much as may show, the doubt in the readings counted. The blanks differ.");
    } else if (!clearance_is_enough) {
      add(open_holes_mend(found, pins, problem), "Opening holes");
      add(next_pins_mend(found, pins, problem), "Taking thicker pins");
    }
    add(face_off_mend(found, problem), "Facing off");
  }
  std::ranges::stable_sort(mends, [](const Mend& a, const Mend& b) {
    if (a.hides != b.hides) return a.hides;
    return a.kind < b.kind;
  });
  return mends;
}

}  // namespace haftwright::alignment
