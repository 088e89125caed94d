// What holes measure, which drills may make them, and a maker's words for a drill.
#pragma once

#include <optional>
#include <string>

#include "haftwright/design/design.hpp"
#include "haftwright/reference/drills.hpp"

namespace haftwright {

struct HoleRange {
  double middle_mm = 0;  ///< diameter
  double half_mm = 0;    ///< the range reaches this far to both sides; 0 where it was measured
  bool measured = true;  ///< else a published range, which is not centred on the drill's size
};
/// Typed or measured, or where in the published range of a drilled one it lies. Throws as
/// HoleSize::actual_mm does.
HoleRange hole_range(const HoleSize& hole);
/// The least diameter that a hole may have: an unmeasured one is no larger than its drill, for the published
/// range is of holes in metal, and wood closes up behind the drill (common practice).
double smallest_hole_mm(const HoleSize& hole);
/// False where neither a drill nor a diameter is given: the liners' hole of a handle without liners.
bool is_given(const HoleSize& hole);

/// The hole that the tang has already and the pin goes through; null where the pin has a hole of its own, or
/// names one that is not there, which validate() refuses.
const TangHole* existing_tang_hole(const Design& design, const Pin& pin);
/// The tang's hole for a pin: its own, or the one that is there already, as measured.
HoleSize tang_hole(const Design& design, const Pin& pin);

/// Room that a pin takes in the plan: the widest of its own holes, or the pin where that is more. Holes as
/// their drills are listed.
double widest_hole_mm(const Pin& pin);
/// What has to be cut away to be rid of a pin's holes in scales and liners: an unmeasured one in the middle
/// of its published range.
double widest_scale_hole_mm(const Pin& pin);

/// A listed size, or a reamer if `reamers`, from `least_mm` to `most_mm` in diameter: the smallest there is.
/// Projects shown in millimetres get metric drills only.
std::optional<ListedDrill> smallest_drill_for(const Design& design, double least_mm, double most_mm,
                                              bool reamers);
/// "3.1 mm"; with its diameter where that is not what it is called, or not in the unit shown: "#30 (0.1285
/// in)".
std::string drill_words(const ListedDrill& drill, LengthUnit shown);

}  // namespace haftwright
