// Single changes that a maker could make, each made and reckoned anew.
#include <algorithm>
#include <cmath>
#include <functional>

#include "haftwright/alignment/assess.hpp"
#include "haftwright/checks/checks.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "haftwright/reference/drills.hpp"

namespace haftwright {
namespace {

using Candidates = std::vector<std::pair<std::string, Design>>;

std::string length(const Design& design, double mm) {
  return format_length(mm, design.shown_unit);
}

bool through_guide(DrillWay way) {
  return way == DrillWay::guide || way == DrillWay::guide_pinned;
}

void longer_guide(const Design& design, Candidates& candidates) {
  if (!through_guide(design.drilling.way)) return;
  Design changed = design;
  changed.guide.plate_thickness_mm = std::round(design.guide.plate_thickness_mm * 1.5);
  candidates.emplace_back("Make the drill guide " + length(design, changed.guide.plate_thickness_mm) +
                              " thick instead of " + length(design, design.guide.plate_thickness_mm),
                          changed);
}

/// The next listed drill or reamer down that still leaves room for glue, for every hole that has one.
void tighter_holes(const Design& design, Candidates& candidates) {
  constexpr double kNextDownMm = 1e-6;
  Design changed = design;
  std::string words;
  for (Pin& pin : changed.pins) {
    const double hole = pin.scale_hole.actual_mm();
    const double least = pin.stock.diameter_mm() + design.rules.glue_clearance_least_mm;
    const auto tool = smallest_drill_between(least, hole - kNextDownMm, true);
    if (!tool) continue;
    const bool lined = !pin.liner_hole.drill.empty() || pin.liner_hole.diameter_mm;
    pin.scale_hole = {std::string(tool->label), tool->diameter_mm};
    if (lined) pin.liner_hole = pin.scale_hole;
    const std::string one = std::string(tool->label) + " (" + length(design, tool->diameter_mm) + ")";
    if (words.find(one) == std::string::npos) words += (words.empty() ? "" : ", ") + one;
  }
  if (!words.empty())
    candidates.emplace_back("Drill or ream the scales tighter: " + words + ", holes measured", changed);
}

void one_block(const Design& design, Candidates& candidates) {
  if (design.drilling.one_block || design.left.joints.empty() || !design.mirrored()) return;
  Design changed = design;
  changed.drilling.one_block = true;
  candidates.emplace_back("Build up one block and saw both scales from it", changed);
}

void other_way(const Design& design, Candidates& candidates) {
  for (const WayRow& row : way_rows()) {
    if (row.way == design.drilling.way) continue;
    Design changed = design;
    changed.drilling.way = row.way;
    candidates.emplace_back("Drill another way: " + std::string(row.title), changed);
  }
}

/// A joint line with a strip so wide that a step in it is lost, at most this wide.
void wider_strips(const Design& design, const WayReport& now, Candidates& candidates) {
  constexpr double kWidestMm = 3;
  const double share = design.rules.strip_hides_share;
  if (share <= 0 || now.draws.any_size_95 <= 0) return;
  const double wanted = std::ceil(now.draws.any_size_95 / share * 2) / 2;
  if (wanted > kWidestMm) return;
  Design changed = design;
  bool any = false;
  for (auto* joints : {&changed.left.joints, changed.right.joints ? &*changed.right.joints : nullptr}) {
    if (!joints) continue;
    for (Joint& joint : *joints)
      for (Sheet& strip : joint.spacers)
        if (strip.thickness_mm < wanted) {
          strip.thickness_mm = wanted;
          any = true;
        }
  }
  if (any)
    candidates.emplace_back("Spacer strips of " + length(design, wanted) + ", in which the step is lost",
                            changed);
}

/// True where a new pin passes every check that is about it alone.
bool sound(const Design& design, std::size_t pin) {
  const auto findings = run_checks(design, lay_out(design));
  return std::ranges::none_of(findings, [&](const Finding& finding) {
    return finding.pin == pin && finding.status == Status::fail && finding.id.starts_with("hole.");
  });
}

/// One more pin as far out as the checks allow, ahead of the first or behind the last.
void pin_farther_out(const Design& design, const Handle& handle, Candidates& candidates) {
  constexpr double kStepMm = 2;
  if (design.pins.empty()) return;
  const auto by_x = [](const Pin& a, const Pin& b) { return a.at_mm.x < b.at_mm.x; };
  const auto [first, last] = std::minmax_element(design.pins.begin(), design.pins.end(), by_x);
  for (const bool behind : {true, false}) {
    const Pin& outer = behind ? *last : *first;
    const double end = behind ? handle.left.finished.bounds().high.x : handle.left.finished.bounds().low.x;
    const double sign = behind ? 1 : -1;
    for (double out = std::abs(end - outer.at_mm.x) - kStepMm; out > 2 * kStepMm; out -= kStepMm) {
      Design changed = design;
      Pin pin = outer;
      pin.name = behind ? "added rear pin" : "added front pin";
      pin.at_mm.x += sign * out;
      if (!pin.existing_tang_hole.empty()) {
        pin.existing_tang_hole.clear();
        pin.tang_hole = pin.scale_hole;
      }
      changed.pins.push_back(pin);
      try {
        if (!sound(changed, changed.pins.size() - 1)) continue;
      } catch (const std::exception&) {
        continue;  // it stands outside the handle, or on another hole
      }
      candidates.emplace_back(
          "One more pin, " + length(design, out) + (behind ? " behind the last" : " ahead of the first"),
          changed);
      break;
    }
  }
}

/// Every source of the shop's own that counts, held to half.
void half_the_largest(const Design& design, const WayReport& now, const DrawSettings& settings,
                      Candidates& candidates) {
  for (const SourceShare& source : source_shares(now, worst_measure(now), settings)) {
    const auto row = std::ranges::find(error_rows(), source.key, &ErrorRow::key);
    if (row == error_rows().end() || source.share <= 0) continue;
    Design changed = design;
    changed.drilling.errors.*row->member /= 2;
    candidates.emplace_back("Halve the error of: " + std::string(row->what), changed);
    return;
  }
}

}  // namespace

std::vector<Change> possible_changes(const Design& design, const Handle& handle, const WayReport& now,
                                     const DrawSettings& settings) {
  Candidates candidates;
  other_way(design, candidates);
  longer_guide(design, candidates);
  tighter_holes(design, candidates);
  pin_farther_out(design, handle, candidates);
  one_block(design, candidates);
  wider_strips(design, now, candidates);
  half_the_largest(design, now, settings, candidates);
  std::vector<Change> changes;
  for (auto& [words, changed] : candidates) {
    const WayReport report = assess_way(changed, lay_out(changed), changed.drilling.way, settings);
    if (!report.problem.empty()) continue;
    changes.push_back({words, std::move(changed), report.draws.any_shows, report.draws.any_size_95});
  }
  return changes;
}

}  // namespace haftwright
