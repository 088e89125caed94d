// After the dry fit: from caliper readings to how far left and right miss each other, and what can be done.
//
// Readings go to where a joint line meets the tang face, at the spine or the belly. Left and right readings
// of one line from one datum give its step; a line read at spine and belly gives its turn too.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "haftwright/alignment/places.hpp"
#include "haftwright/alignment/play.hpp"
#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// A figure and how sure it is: within plus or minus `within` in about 95 of 100 cases.
struct Measured {
  double value = 0;
  double within = 0;
};

/// One joint line as it was found: left less right.
struct FoundLine {
  std::size_t joint = 0;
  StripEdge strip_edge = StripEdge::front;
  Measured spine_mm;  ///< step along x where it meets the spine, tang face
  Measured belly_mm;
  Measured turn_deg;           ///< of the left line against the right one, seen from the side
  bool turn_was_read = false;  ///< else only one edge was read, and no turn is taken
};

/// A reading that can't be used, and why.
struct UnusedReading {
  std::size_t reading = 0;
  std::string why;  ///< "there is no pin called \"fornt pin\""
};

enum class MendKind {
  accept,      ///< nothing shows
  push,        ///< shift and turn the right scale within the pins' play
  open_holes,  ///< open holes with a listed drill, then push
  next_pins,   ///< thicker pins in new, larger holes, drilled with the scales held in line
  face_off     ///< face off the ends at a joint and put a thicker strip in on both sides
};

/// One piece's end to be faced off, in mm at the spine and at the belly.
struct FacingOff {
  Which side = Which::left;
  std::size_t piece = 0;
  bool rear_end = false;
  std::size_t joint = 0;
  double spine_mm = 0;
  double belly_mm = 0;
};

struct HoleOpening {
  std::size_t pin = 0;
  std::string drill;  ///< listed label
  double diameter_mm = 0;
};

struct StripChange {
  std::size_t joint = 0;
  std::size_t strip = 0;
  double from_mm = 0;
  double to_mm = 0;
};

struct Mend {
  MendKind kind = MendKind::accept;
  std::string words;  ///< plain words with the amounts in the project's shown unit
  Pose push;          ///< of the right scale
  std::vector<HoleOpening> openings;
  std::vector<FacingOff> facings;
  std::vector<StripChange> strips;
  std::vector<std::string>
      cautions;             ///< what speaks against it: "more clearance than the shop's rule allows"
  double predicted_mm = 0;  ///< greatest step left, as reckoned
  double verified_mm = 0;   ///< the same, from the handle laid out again with the mend applied
  bool hides = false;       ///< verified_mm does not show
  Design mended;            ///< the as-found design with the mend applied
};

struct DryFit {
  std::vector<FoundLine> lines;
  std::vector<UnusedReading> unused;
  Pose right_by;      ///< the motion of the right scale that explains the steps best ...
  Measured shift_mm;  ///< ... along x, with its uncertainty
  Measured turn_deg;
  double rest_mm = 0;   ///< greatest step that no motion explains: blanks that differ
  double worst_mm = 0;  ///< greatest |step| found
  bool play_is_enough = false;
  Design as_found;          ///< the design with its joints where the readings put them
  std::vector<Mend> mends;  ///< best first
};

/// No value when no line was read on both sides from one datum; `unused` would then say why: see
/// unused_readings.
std::optional<DryFit> read_dry_fit(const Design& design, const Handle& handle);
std::vector<UnusedReading> unused_readings(const Design& design, const Handle& handle);

}  // namespace haftwright
