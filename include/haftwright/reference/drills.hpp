// Listed drills and reamers: fraction, number, letter and metric sizes, each with its source.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace haftwright {

enum class DrillSeries { fraction, number, letter, metric, reamer };

struct ListedDrill {
  DrillSeries series;
  std::string_view label;   ///< "1/8", "#30", "F", "3.3 mm"; reamers "1/8 reamer over"
  double diameter_mm;       ///< nominal
  std::string_view source;  ///< title, edition, table; "memory" where not read
};

/// Every listed size, by series and then by diameter.
std::span<const ListedDrill> listed_drills();
/// Accepts the label with or without spaces, "in", "mm" and case ("1/8 in", "no 30", "#30", "f", "3.3mm"). A
/// bare whole number could be a number drill or millimetres and is not accepted.
std::optional<ListedDrill> find_drill(std::string_view label);
/// The smallest listed drill (no reamer unless `reamers`) of at least `diameter_mm` and at most `most_mm`;
/// `metric`: of metric sizes alone, for a shop that has no others.
std::optional<ListedDrill> smallest_drill_between(double diameter_mm, double most_mm, bool reamers,
                                                  bool metric = false);
/// As a maker says it: "1/8 in", "#30", "3.3 mm".
std::string drill_words(const ListedDrill& drill);
/// The known label nearest in spelling, for error messages; empty when none is near.
std::string nearest_drill_label(std::string_view label);

/// How far a size may lie from its nominal.
struct SizeAllowance {
  double lower_mm = 0;
  double upper_mm = 0;
  std::string_view source;
};
/// What a drilled hole may measure over and under the drill's nominal size, drill guided by a jig in a
/// drilling machine. Known from 0.0135 in to 0.75 in; none outside.
std::optional<SizeAllowance> drilled_hole_allowance(double nominal_mm);
/// Bore of a drill bushing over the drill's nominal size. Known up to 0.75 in; none above.
std::optional<SizeAllowance> bushing_bore_allowance(double drill_mm);

/// Flutes of a jobber drill, the ordinary length. Known from 1.9 to 13.2 mm; none outside. Inch sizes of that
/// length have longer flutes.
struct FluteLength {
  double length_mm = 0;
  std::string_view source;
};
std::optional<FluteLength> jobber_flute_length(double drill_mm);

}  // namespace haftwright
