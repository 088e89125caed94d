// The ways of drilling, each as a stack of errors built from what the project says of its shop.
//
// Whatever both sides share cancels in the step between them; a stack holds what is left. Per way:
//
// - by_eye: each side is set by eye on the tang (along, across, turned) and drilled through its holes.
// - to_first: the second scale is set by eye against the first, once, and drilled through the first's holes.
// - taped: lines are set edge to edge; one straight hole for both sides, which stand a tang apart later.
// - guide: each side sits on two fences, its joint lines on the edges of the sight windows; same bores.
// - guide_pinned: as guide; the pins are fixed in the tang while both scales hold them, midway between their
//   holes; each side then finds its own place on them.
//
// Order of work: blanks are glued up from the front, so that lengths of pieces, strips and glue films add up;
// the scales are set and drilled; where front faces are shaped together the scales are pinned to each other
// for it, dry and without the tang, in one pose within the pins' room; they are glued on in another. So such
// a front face counts the difference of two poses, a joint line the last alone.
//
// What the eye or a window lines up, a joint line say, is right to within that setting, however far off its
// blank that line is; other lines keep their error against it. A drill leans by no more than what guides it
// lets it, on each axis of the plan. A drill
// also wanders in the wood. A pin is straight and free to tilt: it must pass the holes of both scales and of
// the tang, and the tang goes wherever the pins let it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/alignment/places.hpp"
#include "haftwright/guide/drill_guide.hpp"
#include "haftwright/tolerance/stack.hpp"

namespace haftwright {

struct WayRow {
  DrillWay way = DrillWay::by_eye;
  std::string_view key;     ///< as in a project file
  std::string_view how;     ///< one sentence
  std::string_view shared;  ///< what both sides have in common, so that it parts them nowhere
  bool through_guide = false;
};
std::span<const WayRow> way_rows();
const WayRow& way_row(DrillWay way);

/// Why a way can't be gone whatever the errors: a drill that does not pass the tang's hole which it is to be
/// guided by. Empty when it can.
std::string way_problem(const Design& design, DrillWay way);

/// What measure i of the stack is about.
struct MeasureInfo {
  Measure::Kind kind = Measure::Kind::step_mm;
  std::size_t place = 0;  ///< index in LineUp::places; an angle is that of the line from here to the surface
};

/// Who has an error of his own.
enum class Sharing {
  each_side,  ///< left and right: two that part the sides
  once,       ///< one, between the sides
  both        ///< the same on both: only what it does to them unlike is left
};
std::string_view words_of(Sharing sharing);  ///< "each side its own"

/// A contributor of the stack as the maker may read it.
struct ContributorInfo {
  double size = 0;        ///< limit of each of its variables; where they differ, the largest
  std::string_view unit;  ///< "mm", "deg"
  DistributionShape shape = DistributionShape::normal;
  Sharing sharing = Sharing::each_side;  ///< where that differs too, the least shared
};

/// "within 0.20 mm, each side its own"; evenly spread ones: "up to 0.03 mm".
std::string words_of(const ContributorInfo& info, LengthUnit unit);

struct LineUp {
  std::vector<MeetingPlace> places;
  std::vector<MeasureInfo> measures;
  std::vector<ContributorInfo> contributors;  ///< one for each of ToleranceStack::contributors
  ToleranceStack stack;
};

/// `guide` is wanted for the ways through the guide only; throws std::invalid_argument when it is missing
/// there.
LineUp line_up(const Design& design, const Handle& handle, DrillWay way, const DrillGuide* guide);

}  // namespace haftwright
