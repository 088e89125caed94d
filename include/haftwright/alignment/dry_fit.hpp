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
#include "haftwright/edits/corrections.hpp"
#include "haftwright/handle/handle.hpp"
#include "haftwright/tolerance/clearance.hpp"

namespace haftwright {

/// A figure and how sure it is: within plus or minus `within` in about 95 of 100 cases.
struct Measured {
  double value = 0;
  double within = 0;
};

/// One joint line as it was found. Steps are left less right along x, where the line meets the tang face.
/// No value for an edge of the handle that was not read on both sides.
struct FoundLine {
  std::size_t joint = 0;
  StripEdge strip_edge = StripEdge::front;  ///< a joint without strips has the front one only
  std::optional<Measured> spine_mm;
  std::optional<Measured> belly_mm;
  std::optional<Measured> turn_deg;  ///< slant of the left line less that of the right one; both edges read
};

/// A reading that can't be used, and why.
struct UnusedReading {
  std::size_t reading = 0;
  std::string why;  ///< "there is no pin with the id \"fornt_pin\""
};

enum class MendKind {
  accept,      ///< nothing shows, for certain
  push,        ///< shift and turn the right scale within the pins' clearance
  open_holes,  ///< open holes with a listed drill, then push
  next_pins,   ///< thicker pins in new, larger holes, drilled with the scales held in line
  face_off     ///< face off the ends at a joint and put a thicker strip in on both sides
};

/// One piece's end to be faced off, in mm along x at the spine and at the belly. At least so much; more, the
/// same all along, makes room for a thicker strip.
struct FacingOff {
  Which side = Which::left;
  std::size_t piece = 0;
  bool rear_end = false;
  std::size_t joint = 0;
  double spine_mm = 0;
  double belly_mm = 0;
};

/// A pin's holes opened up, in the scales and liners of both sides.
struct HoleOpening {
  std::size_t pin = 0;
  std::string drill;  ///< listed label
  double diameter_mm = 0;
  std::optional<double> stock_mm;  ///< next_pins: what the new pin measures; the tang's hole is opened too
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
  double predicted_mm = 0;  ///< greatest step left, as computed
  double verified_mm = 0;   ///< the same, from the handle laid out again with the mend applied
  bool hides = false;       ///< no step that is left shows, what the readings leave in doubt allowed for
  std::string outcome;      ///< "which does not show", "which still shows", or what is not known
  Design mended;            ///< the as-found design with the mend applied
};

/// Opens holes, drills new ones or faces ends off: what can't be taken back.
bool cuts_wood(MendKind kind);

struct DryFit {
  std::vector<FoundLine> lines;  ///< front to rear
  std::vector<UnusedReading> unused;
  std::vector<std::string> taken;  ///< what was taken for granted, a sentence each
  /// The motion of the right scale, from where the design has it, that explains best what was found. An
  /// equivalent motion: where blanks are off too, or the scale lies off across, the scale itself may lie
  /// elsewhere.
  Pose right_by;
  Vec2 about_mm{0, 0};                ///< it turns about the middle of the ends that were read
  Measured shift_mm;                  ///< of `about_mm` along x, toward the butt
  Measured turn_deg;                  ///< from +x toward +y; zero within zero where the readings do not tell
  std::optional<Measured> across_mm;  ///< only where slants that differ tell more than the shop's own error
  double rest_mm = 0;                 ///< greatest step that no motion explains: blanks that differ, or the
                                      ///< readings' own error
  double worst_mm = 0;                ///< greatest |step| found
  bool clearance_is_enough = false;   ///< the pins' clearance lets every step at the joints read be hidden
  /// What to read next: until it is, nobody knows whether a step shows there. Empty when nothing is missing.
  std::string decide;
  std::string problem;      ///< why the handle can't be laid out as found; no mends are then given
  Design as_found;          ///< the design with its joints where the readings put them
  std::vector<Mend> mends;  ///< best first
};

/// The left side's lines are taken to be where they were read, the right side's to be off by the steps. A
/// strip is as thick all along, so that a joint read at four ends is adjusted to three figures a side (least
/// squares); lines of one joint that were not read keep their strips' thickness, and whatever else was not
/// read goes along with `right_by`. lay_out(as_found) then shows the steps of `lines` exactly.
///
/// Readings that contradict each other by more than their accuracy allows (chi-square, one in a hundred) give
/// a problem that names the suspect, and no mends. While an edge of a joint that both sides have is not read,
/// nothing is accepted and nothing cut.
///
/// A mend's steps are those of the front and rear line of every joint that both sides have, at spine and
/// belly, tang face; a line's end that was not read counts with where it is taken to be.
///
/// No value when no line was read on both sides from one datum; unused_readings tells why.
std::optional<DryFit> read_dry_fit(const Design& design, const Handle& handle);
/// Whether the pins' clearance is enough, in a sentence; empty when nothing can be said of it.
std::string clearance_words(const DryFit& fit);
std::vector<UnusedReading> unused_readings(const Design& design, const Handle& handle);

}  // namespace haftwright
