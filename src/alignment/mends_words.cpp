// How a mend is told to the maker, and what speaks against it.
#include <algorithm>
#include <cmath>

#include "haftwright/checks/checks.hpp"
#include "mends.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kLeastToldMm = 0.005;  // less is nothing a hand can do

/// "0.12 mm toward the butt"; empty when it is nothing.
std::string way_words(double mm, const char* ahead, const char* back, const Design& design) {
  if (std::abs(mm) < kLeastToldMm) return {};
  return amount(std::abs(mm), design) + " toward the " + (mm > 0 ? ahead : back);
}

}  // namespace

std::string amount(double mm, const Design& design) {
  // Steps are far below a 64th of an inch.
  const bool fraction = design.shown_unit == LengthUnit::inch_fraction;
  return format_length(mm, fraction ? LengthUnit::inch : design.shown_unit);
}

std::string push_words(const Found& found, const Pose& pose) {
  const Bounds bounds = found.handle.right.finished.bounds();
  const Vec2 front = pose.motion_of({bounds.low.x, 0});
  const Vec2 butt = pose.motion_of({bounds.high.x, 0});
  const std::string along = way_words(front.x, "butt", "front", found.design);
  const std::string at_front = way_words(front.y, "spine", "belly", found.design);
  const std::string at_butt = way_words(butt.y, "spine", "belly", found.design);
  std::vector<std::string> parts;
  if (!along.empty()) parts.push_back(along);
  if (!at_front.empty()) parts.push_back("its front end " + at_front);
  if (!at_butt.empty()) parts.push_back("its butt end " + at_butt);
  if (parts.empty()) return "leave the right scale where it is";
  std::string words = "shift the right scale " + parts.front();
  for (std::size_t i = 1; i < parts.size(); ++i) words += (i + 1 == parts.size() ? " and " : ", ") + parts[i];
  return words;
}

void add_push_cautions(const Found& found, Mend& mend) {
  double front = 0;
  double visible = 0;
  for (const MeetingPlace& place : meeting_places(found.design, found.handle))
    if (!place.joint && !place.surface) {
      front = std::max(front, std::abs(place.right.pose.of(mend.push)));
      visible = place.visible_mm;
    }
  if (front > visible)
    mend.cautions.push_back(
        "The right front face moves " + amount(front, found.design) +
        " with its scale: dress both front faces flush again, dry and on the pins, before "
        "you glue.");
  mend.cautions.emplace_back(
      "Try it dry first and clamp it there. Wet epoxy is slippery and the scale creeps until it has cured; "
      "wear nitrile gloves.");
}

void add_drilling_cautions(const Found& found, Mend& mend) {
  const Design& design = found.design;
  double most = 0;
  std::string loose;
  for (const HoleOpening& opening : mend.openings) {
    const double stock = opening.stock_mm.value_or(design.pins[opening.pin].stock.diameter_mm());
    const double clearance = opening.diameter_mm - stock;
    if (clearance <= design.rules.glue_clearance_most_mm + 1e-9) continue;
    most = std::max(most, clearance);
    loose += (loose.empty() ? "" : ", ") + pin_words(design, opening.pin);
  }
  if (!loose.empty())
    mend.cautions.push_back("With up to " + amount(most, design) + " of clearance (" + loose +
                            "), more than the shop's rule of " +
                            amount(design.rules.glue_clearance_most_mm, design) +
                            ", a pin no longer holds the parts in place by itself: clamp them.");
  mend.cautions.emplace_back(
      "Open holes up slowly with the scale clamped on a backing board, never held by hand. Extract the dust "
      "and wear a fitted mask and eye protection.");
}

void add_failing_checks(const Found& found, const Handle& mended, Mend& mend) {
  constexpr std::size_t kMostTold = 3;
  std::vector<FindingKey> before;
  for (const Finding& finding : run_checks(found.design, found.handle))
    if (finding.status == Status::fail) before.push_back(key_of(finding));
  std::vector<Finding> failing;
  for (Finding& finding : run_checks(mend.mended, mended))
    // Steps and clearances are told on their own.
    if (finding.status == Status::fail && !finding.id.starts_with("align.") && finding.id != "pin.fit" &&
        std::ranges::find(before, key_of(finding)) == before.end())
      failing.push_back(std::move(finding));
  sort_worst_first(failing);
  for (std::size_t i = 0; i < std::min(failing.size(), kMostTold); ++i) {
    const Finding& finding = failing[i];
    mend.cautions.push_back(
        "A check that passed now fails, " + finding.id + " at " + where_words(found.design, finding.where) +
        ": " + amount_words(finding.value, finding.unit, found.design.shown_unit) +
        (finding.sense == Sense::at_least ? " where at least " : " where at most ") +
        amount_words(finding.limit, finding.unit, found.design.shown_unit) + " is wanted.");
  }
  if (failing.size() > kMostTold)
    mend.cautions.push_back(std::to_string(failing.size() - kMostTold) + " more that passed would fail.");
}

}  // namespace haftwright::alignment
