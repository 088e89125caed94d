// The ways of drilling, each as a chain of errors built from what the project says of its shop.
//
// Whatever both sides share cancels in the step between them; a chain holds what is left. Per way:
//   by_eye       each side is set by eye on the tang (along, across, turned) and drilled through its holes.
//   to_first     the second scale is set by eye against the first, once, and drilled through the first's
//   holes. taped        lines are set edge to edge; one hole for both sides, so that only the drill's lean
//   parts them. guide        each side sits on two fences, its joint lines on the edges of the sight windows;
//   same bores. guide_pinned as guide; each side then finds its own place on pins that are fixed in the tang.
// What the eye or a window lines up, a joint line say, is right to within that setting, however far off its
// blank that line is; other lines keep their error against it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "haftwright/alignment/chain.hpp"
#include "haftwright/alignment/places.hpp"
#include "haftwright/guide/drill_guide.hpp"

namespace haftwright {

struct WayRow {
  DrillWay way = DrillWay::by_eye;
  std::string_view key;    ///< as in a project file
  std::string_view title;  ///< "second scale against the first"
  std::string_view how;    ///< one sentence
};
std::span<const WayRow> way_rows();
const WayRow& way_row(DrillWay way);

/// What measure i of the chain is about.
struct MeasureInfo {
  Measure::Kind kind = Measure::Kind::step_mm;
  std::size_t place = 0;  ///< index in LineUp::places; an angle is that of the line from here to the surface
};

struct LineUp {
  std::vector<MeetingPlace> places;
  std::vector<MeasureInfo> measures;
  Chain chain;
};

/// `guide` is wanted for the ways through the guide only; throws std::invalid_argument when it is missing
/// there.
LineUp line_up(const Design& design, const Handle& handle, DrillWay way, const DrillGuide* guide);

}  // namespace haftwright
