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
/// Accepts the label with or without spaces, "in", "mm" and case ("1/8 in", "no 30", "#30", "f", "3.3mm").
std::optional<ListedDrill> find_drill(std::string_view label);
/// The smallest listed drill (no reamer unless `reamers`) of at least `diameter_mm` and at most `most_mm`.
std::optional<ListedDrill> smallest_drill_between(double diameter_mm, double most_mm, bool reamers);
/// The known label nearest in spelling, for error messages.
std::string nearest_drill_label(std::string_view label);

}  // namespace haftwright
