// More room for the pins: the same pins in opened holes, or thicker pins in new ones.
#include <algorithm>
#include <cmath>

#include "haftwright/design/holes.hpp"
#include "haftwright/edits/pins.hpp"
#include "mends.hpp"

namespace haftwright::alignment {
namespace {

constexpr double kSameMm = 1e-6;

/// "pin \"a\" to 3.3 mm (3.30 mm)", joined.
std::string openings_words(const Design& design, const std::vector<HoleOpening>& openings) {
  std::string words;
  for (std::size_t i = 0; i < openings.size(); ++i) {
    const HoleOpening& opening = openings[i];
    if (i > 0) words += i + 1 == openings.size() ? " and " : ", ";
    words += pin_words(design, opening.pin);
    if (opening.stock_mm) words += " of " + amount(*opening.stock_mm, design) + ", holes";
    words += " to " + opening.drill;
    if (!opening.drill.ends_with("mm") || design.shown_unit != LengthUnit::millimetre)
      words += " (" + amount(opening.diameter_mm, design) + ")";
  }
  return words;
}

void take_over(Mend& mend, const Pushed& pushed) {
  mend.push = pushed.pose;
  mend.predicted_mm = pushed.predicted_mm;
  mend.verified_mm = pushed.verified_mm;
  judge_outcome(pushed.steps, mend);
  mend.mended = pushed.design;
}

/// Rod is commonly sold in half millimetres or in 32nds of an inch (common practice); a pin stays in its
/// system.
bool is_rod_size(const ListedDrill& drill, bool inches) {
  const double steps = inches ? drill.diameter_mm / kMmPerInch * 32 : drill.diameter_mm * 2;
  return drill.series == (inches ? DrillSeries::fraction : DrillSeries::metric) &&
         std::abs(steps - std::round(steps)) < kSameMm;
}

bool sold_in_inches(double nominal_mm) {
  constexpr double kNearMm = 0.01;  // 3.18 mm is 1/8 in
  const double halves = nominal_mm * 2;
  if (std::abs(halves - std::round(halves)) < kSameMm) return false;
  const double steps = nominal_mm / kMmPerInch * 32;
  return std::abs(steps - std::round(steps)) * kMmPerInch / 32 < kNearMm;
}

struct NextPin {
  double stock_mm = 0;
  ListedDrill drill;
};
/// The next rod with a listed drill that leaves glue clearance and cuts the old hole away.
std::optional<NextPin> next_pin(const Design& design, const Pin& pin, double least_hole_mm) {
  const bool inches = sold_in_inches(pin.stock.nominal_mm);
  std::vector<double> rods;
  for (const ListedDrill& drill : listed_drills())
    if (is_rod_size(drill, inches) && drill.diameter_mm > pin.stock.diameter_mm() + kSameMm)
      rods.push_back(drill.diameter_mm);
  std::ranges::sort(rods);
  for (const double rod : rods) {
    const double least = std::max(least_hole_mm, rod + design.rules.glue_clearance_least_mm);
    const double most = rod + design.rules.glue_clearance_most_mm;
    if (const auto drill = smallest_drill_for(design, least, most, true)) return NextPin{rod, *drill};
  }
  return std::nullopt;
}

}  // namespace

std::optional<Mend> open_holes_mend(const Found& found, const std::vector<PinClearance>& pins,
                                    std::string& problem) {
  const auto growth = best_openings(found, pins, kTargetShare);
  if (!growth) {
    problem = "holes would have to be opened too far.";
    return std::nullopt;
  }
  constexpr double kMostOverMm = 2;
  Mend mend{.kind = MendKind::open_holes};
  Design opened = found.design;
  std::vector<PinClearance> room = pins;
  for (std::size_t i = 0; i < pins.size(); ++i) {
    if (growth->needed_mm[i] <= pins[i].radius_mm + kSameMm) continue;
    const double least = found.design.pins[i].stock.diameter_mm() + growth->needed_mm[i];
    const auto drill = smallest_drill_for(found.design, least, least + kMostOverMm, true);
    if (!drill) {
      problem = "no drill is listed for a hole of " + amount(least, found.design) + ".";
      return std::nullopt;
    }
    mend.openings.push_back({i, drill_words(*drill), drill->diameter_mm, std::nullopt});
    opened = *open_scale_holes(opened, i, *drill);
    room[i].radius_mm = drill->diameter_mm - found.design.pins[i].stock.diameter_mm();
  }
  const auto pushed = push_within({opened, found.handle, found.known, found.steps}, room, problem);
  if (!pushed) return std::nullopt;
  take_over(mend, *pushed);
  mend.words = "Open the holes of " + openings_words(found.design, mend.openings) +
               " in both scales and their liners; then, before the glue sets, " +
               push_words(found, mend.push) + ".";
  add_push_cautions(found, mend);
  add_drilling_cautions(found, mend);
  add_failing_checks(found, *pushed->handle, mend);
  return mend;
}

std::optional<Mend> next_pins_mend(const Found& found, const std::vector<PinClearance>& pins,
                                   std::string& problem) {
  // Drilled anew the scales can be held as near in line as they come.
  constexpr double kNearBest = 0.02;
  const double best = least_share(found);
  const auto growth = least_growth(found, pins, std::vector<bool>(pins.size(), true),
                                   std::min(best + kNearBest, kTargetShare));
  if (!growth) {
    problem = "holes would have to be opened too far.";
    return std::nullopt;
  }
  Mend mend{.kind = MendKind::next_pins};
  Design changed = found.design;
  std::vector<PinClearance> room = pins;
  for (std::size_t i = 0; i < pins.size(); ++i) {
    if (growth->needed_mm[i] <= pins[i].radius_mm + kSameMm) continue;
    const Pin& pin = found.design.pins[i];
    const double least_hole = widest_scale_hole_mm(pin) + 2 * growth->needed_mm[i];
    const auto next = next_pin(found.design, pin, least_hole);
    if (!next) {
      problem =
          "no rod and drill are listed that cut away a hole of " + amount(least_hole, found.design) + ".";
      return std::nullopt;
    }
    mend.openings.push_back({i, drill_words(next->drill), next->drill.diameter_mm, next->stock_mm});
    changed = *fit_thicker_pin(changed, i, next->stock_mm, next->drill);
    room[i].radius_mm = growth->needed_mm[i];  // so much off its old hole, and no more, the new one may be
  }
  const auto pushed = push_within({changed, found.handle, found.known, found.steps}, room, problem);
  if (!pushed) return std::nullopt;
  take_over(mend, *pushed);
  mend.words = "Take thicker pins: " + push_words(found, mend.push) +
               ", clamp it so that the lines meet, and drill scales, liners and tang together for " +
               openings_words(found.design, mend.openings) + ", which cuts the old holes away.";
  add_push_cautions(found, mend);
  add_drilling_cautions(found, mend);
  if (found.design.tang.hardened)
    mend.cautions.emplace_back(
        "This tang is hardened: high-speed steel drills do not cut it, carbide ones need a rigid machine.");
  add_failing_checks(found, *pushed->handle, mend);
  return mend;
}

}  // namespace haftwright::alignment
