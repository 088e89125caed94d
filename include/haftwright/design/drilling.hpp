// How this maker drills: the way, and how large each error is in this shop, with its default and basis.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "haftwright/design/sides.hpp"

namespace haftwright {

/// How the holes of both scales come to agree.
enum class DrillWay {
  by_eye,       ///< each scale on its own, clamped by eye, through the tang's holes
  to_first,     ///< the first through the tang; the second lined up with the pinned first, then through it
  taped,        ///< both scales taped inner face to inner face and drilled as one
  guide,        ///< through the drill guide, against its fences, joint lines in its sight windows
  guide_pinned  ///< as guide, onto a tang whose pins are fixed in it already
};

/// What the eye lines up where no guide does: the foremost joint line at the spine, or the front face there.
enum class SetBy { joint_line, front_face };

/// Where in the pins' clearance a scale ends up when it is glued on. Evenly is the default: a maker who looks
/// at the lines once more while the clamps go on leaves the scale anywhere in its clearance. Wet epoxy is
/// slippery, and clamps that are not square to the handle push a scale as far as the pins let it go: crept.
enum class GlueUp { even, crept };

/// Sizes of errors: each lies within plus or minus this in about 95 of 100 cases. Guided drills, unmeasured
/// holes and fences have limits of their own, from the design and from published tables.
struct ShopErrors {
  double joint_place_mm = 0.2;
  double joint_square_deg = 0.2;
  double joint_rake_deg = 0.2;
  double strip_thickness_mm = 0.05;
  double glue_film_mm = 0.05;
  double front_place_mm = 0.15;
  double set_along_mm = 0.3;
  double set_across_mm = 0.3;
  double set_turn_deg = 0.3;
  double match_along_mm = 0.2;
  double match_turn_deg = 0.25;
  double tape_along_mm = 0.1;
  double tape_turn_deg = 0.15;
  double sight_mm = 0.1;
  double fence_seat_mm = 0.05;
  double drill_play_mm = 0.02;
  double drill_lean_deg = 0.5;
  double drill_wander_deg = 0.1;  ///< beside the lean that what guides the drill lets it have
  double tang_hole_place_mm = 0.1;
  double hole_size_mm = 0.02;
  double pin_size_mm = 0.01;
  double thickness_mm = 0.2;
  bool operator==(const ShopErrors&) const = default;
};

/// One row for each error: its key in a project file, range, unit and basis.
struct ErrorRow {
  std::string_view key;
  double ShopErrors::*member;
  double most;             ///< the least is 0: no such error
  std::string_view unit;   ///< "mm", "deg"
  std::string_view what;   ///< plain words
  std::string_view basis;  ///< "common practice", or title, edition and table
};
std::span<const ErrorRow> error_rows();
const ErrorRow& error_row(double ShopErrors::*member);

/// What is the same in all that a maker drills: it belongs to the shop as much as to a project.
struct DrillingHabits {
  DrillWay way = DrillWay::to_first;
  SetBy set_by = SetBy::joint_line;
  /// Both front faces are shaped together, with the scales pinned to each other: whatever parts the holes is
  /// shaped away there.
  bool fronts_together = true;
  GlueUp glue_up = GlueUp::even;
  ShopErrors errors;
  bool operator==(const DrillingHabits&) const = default;
};

struct Drilling : DrillingHabits {
  /// Both scales are sawn from one built-up block: its joints' place and slant are then the same on both.
  /// Only some handles allow it, so it is the project's own.
  bool one_block = false;
  bool operator==(const Drilling&) const = default;
};

enum class StripEdge { front, rear };
enum class ReadingKind { length, step };

/// A caliper reading at the dry fit, where a joint line meets the tang face: a length to the line of one
/// side, straight from the front face's end at the same edge or along the handle (x) from a pin; or the step
/// from the line of one side to that of the other, along the handle, read straight across the tang.
struct CaliperReading {
  std::string joint;                        ///< its id
  StripEdge strip_edge = StripEdge::front;  ///< without strips both are the joint line
  HandleEdge at = HandleEdge::spine;
  ReadingKind kind = ReadingKind::length;
  Which side = Which::left;  ///< that is read; of a step, the one whose line lies nearer the butt
  /// Id of a pin, from whose near side a length is read; empty: from the front face at the same edge, or a
  /// step.
  std::string from_pin;
  double reading_mm = 0;      ///< at least 0
  double accuracy_mm = 0.05;  ///< within plus or minus this in about 95 of 100 readings
  bool operator==(const CaliperReading&) const = default;
};

}  // namespace haftwright
