// Single changes that a maker could make, each made and computed anew.
#include <algorithm>
#include <cmath>
#include <functional>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/design/holes.hpp"
#include "haftwright/edits/pins.hpp"
#include "haftwright/edits/shop.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/words/words.hpp"

namespace haftwright {
namespace {

using Candidates = std::vector<std::pair<std::string, Design>>;

/// What can't be done is no candidate.
void add(Candidates& candidates, const std::string& words, const Edited& edited) {
  if (edited) candidates.emplace_back(words, *edited);
}

std::string length(const Design& design, double mm) {
  return format_length(mm, design.shown_unit);
}

void longer_guide(const Design& design, Candidates& candidates) {
  if (!way_row(design.drilling.way).through_guide) return;
  const double thicker_mm = std::round(design.guide.plate_thickness_mm * 1.5);
  add(candidates,
      "Make the drill guide " + length(design, thicker_mm) + " thick instead of " +
          length(design, design.guide.plate_thickness_mm),
      set_guide_thickness(design, thicker_mm));
}

/// Gives every hole of a pin that `tool_for` finds another tool for that tool; the tools' words.
template <class ToolFor>
std::string new_tools(Design& changed, bool measured, ToolFor tool_for) {
  std::string words;
  for (std::size_t i = 0; i < changed.pins.size(); ++i) {
    const auto tool = tool_for(changed.pins[i]);
    if (!tool) continue;
    changed = *drill_pin_holes(
        changed, i, {std::string(tool->label), measured ? std::optional(tool->diameter_mm) : std::nullopt});
    const std::string one = drill_words(*tool, changed.shown_unit);
    if (words.find(one) == std::string::npos) words += (words.empty() ? "" : ", ") + one;
  }
  return words;
}

/// The smallest listed drill or reamer that leaves room for glue, for every hole that is larger.
void tighter_holes(const Design& design, Candidates& candidates) {
  constexpr double kNextDownMm = 1e-6;
  Design changed = design;
  const std::string words = new_tools(changed, true, [&](const Pin& pin) {
    const double least = pin.stock.diameter_mm() + design.rules.glue_clearance_least_mm;
    return smallest_drill_for(design, least, pin.scale_hole.actual_mm() - kNextDownMm, true);
  });
  if (!words.empty())
    candidates.emplace_back("Drill or ream the scales tighter: " + words + ", holes measured", changed);
}

/// Where a pin has less room than glue wants, the smallest listed drill that gives it.
void wider_holes(const Design& design, Candidates& candidates) {
  Design changed = design;
  const std::string words = new_tools(changed, false, [&](const Pin& pin) -> std::optional<ListedDrill> {
    const double stock = pin.stock.diameter_mm();
    const double least = stock + design.rules.glue_clearance_least_mm;
    if (pin.scale_hole.actual_mm() >= least) return std::nullopt;
    return smallest_drill_for(design, least, stock + design.rules.glue_clearance_most_mm, false);
  });
  if (!words.empty()) candidates.emplace_back("Drill wider, so that the pins go in: " + words, changed);
}

void one_block(const Design& design, Candidates& candidates) {
  if (!design.left.joints.empty())
    add(candidates, "Build up one block and saw both scales from it", saw_from_one_block(design));
}

/// True where a new pin passes every check that is about its hole alone.
bool sound(const Design& design, std::size_t pin) {
  const Handle handle = lay_out(design);
  std::vector<Finding> findings;
  for (const CheckKind& kind : check_kinds())
    if (kind.id.starts_with("hole.")) kind.run(design, handle, findings);
  return std::ranges::none_of(findings, [&](const Finding& finding) {
    return pin_of(finding.where) == pin && finding.status == Status::fail;
  });
}

/// One more pin as far out as the checks allow, ahead of the first or behind the last.
void pin_farther_out(const Design& design, const Handle& handle, Candidates& candidates) {
  constexpr double kStepMm = 2;
  if (design.pins.empty()) return;
  const auto by_x = [](const Pin& a, const Pin& b) { return a.at_mm.x < b.at_mm.x; };
  const auto [first, last] = std::minmax_element(design.pins.begin(), design.pins.end(), by_x);
  for (const bool behind : {true, false}) {
    const auto outer = behind ? last : first;
    const double end = behind ? handle.left.finished.bounds().high.x : handle.left.finished.bounds().low.x;
    for (double out = std::abs(end - outer->at_mm.x) - kStepMm; out > 2 * kStepMm; out -= kStepMm) {
      const Edited changed = copy_pin(design, static_cast<std::size_t>(outer - design.pins.begin()),
                                      outer->at_mm + Vec2{behind ? out : -out, 0},
                                      behind ? "added rear pin" : "added front pin");
      if (!changed) return;
      try {
        if (!sound(*changed, changed->pins.size() - 1)) continue;
      } catch (const std::exception&) {
        continue;  // it stands outside the handle, or on another hole
      }
      add(candidates,
          "One more pin, " + length(design, out) + (behind ? " behind the last" : " ahead of the first"),
          changed);
      break;
    }
  }
}

/// The contributor of the shop's own that counts most, held to half.
void half_the_largest(const Design& design, const std::vector<ContributorShare>& shares,
                      Candidates& candidates) {
  for (const ContributorShare& contributor : shares) {
    const auto row = std::ranges::find(error_rows(), contributor.key, &ErrorRow::key);
    if (row == error_rows().end() || contributor.share.total <= 0) continue;
    return add(candidates, "Halve the error of: " + std::string(row->what),
               set_error(design, row->member, design.drilling.errors.*row->member / 2));
  }
}

WhatIf change_of(std::string words, Design design, const Samples& samples) {
  return {std::move(words), std::move(design), samples.any_shows, samples.no_fit, samples.any_size_95};
}

/// The other ways of drilling have been computed already.
void other_ways(const Design& design, const LineUpReport& so_far, std::vector<WhatIf>& changes) {
  for (const WayReport& way : so_far.ways) {
    if (way.way == design.drilling.way || !way.problem.empty()) continue;
    changes.push_back(change_of("Drill another way: " + std::string(drilling_words(way.way)),
                                *set_drill_way(design, way.way), way.samples));
  }
}

}  // namespace

std::vector<WhatIf> what_ifs(const Design& design, const Handle& handle, const LineUpReport& so_far,
                             const SampleSettings& settings) {
  Candidates candidates;
  longer_guide(design, candidates);
  tighter_holes(design, candidates);
  wider_holes(design, candidates);
  pin_farther_out(design, handle, candidates);
  one_block(design, candidates);
  half_the_largest(design, so_far.shares, candidates);
  std::vector<WhatIf> changes;
  other_ways(design, so_far, changes);
  for (auto& [words, changed] : candidates) {
    const WayReport report = assess_way(changed, lay_out(changed), changed.drilling.way, settings);
    if (report.problem.empty()) changes.push_back(change_of(words, std::move(changed), report.samples));
  }
  return changes;
}

}  // namespace haftwright
