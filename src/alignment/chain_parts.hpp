// What the parts of a chain are put together from: who is off by how much, side by side.
#pragma once

#include <string>
#include <vector>

#include "haftwright/alignment/ways.hpp"

namespace haftwright::alignment {

/// A variable at its limit moves a scale by this.
struct Setting {
  std::size_t variable = 0;
  Pose pose;
};
using Settings = std::vector<Setting>;

/// Errors of one line (a joint or the front face) on one side's blank.
struct BlankErrors {
  Term place;   ///< mm at limit
  Term square;  ///< radians at limit
  Term rake;    ///< radians at limit
};

struct BuiltBlank {
  BlankErrors front;
  std::vector<BlankErrors> joints;
  const BlankErrors& of(const MeetingPlace& place) const {
    return place.joint ? joints[*place.joint] : front;
  }
};

/// Sources and variables of a chain as they are named.
class Variables {
 public:
  Variables(const Design& design, LineUp& line_up) : design_(design), line_up_(line_up) {}

  /// A variable of one of the shop's errors, with its size in the error's own unit (mm, or radians for
  /// degrees).
  Term of(double ShopErrors::*error, Sharing sharing);
  /// A variable with a size from elsewhere, evenly spread.
  Term even(const Source& source, double size_mm, Sharing sharing);
  /// The same for a lean, in mm for each mm of depth; told in degrees.
  Term even_lean(const Source& source, double slope, Sharing sharing);

 private:
  Term add(const Source& source, double size, const SourceInfo& info);

  const Design& design_;
  LineUp& line_up_;
};

/// A variable that does `factor` times as much.
inline Term times(Term term, double factor) {
  return {term.variable, term.mm_at_limit * factor};
}

BuiltBlank blank_errors(Variables& variables, std::size_t joints, Sharing joint, Sharing front);
/// The right side's blank when both are sawn from one block: its joints have the left's place and slant, and
/// its rake the other way; the front face is its own.
BuiltBlank other_half(Variables& variables, const BuiltBlank& left);

/// How far a blank's own errors move this end along x.
Terms blank_terms(const BlankErrors& errors, const EndEffects& end);

/// How each scale is set, given where its lines really are.
struct SettingInput {
  const Design& design;
  const std::vector<MeetingPlace>& places;
  const BuiltBlank& left;
  const BuiltBlank& right;
  const DrillGuide* guide;
};
struct BothSettings {
  Settings left;
  Settings right;
};
BothSettings settings_of(Variables& variables, const SettingInput& input, DrillWay way);
/// The place that the eye lines up: at the spine, at the tang face.
const MeetingPlace& reference_place(const Design& design, const std::vector<MeetingPlace>& places);

/// The plays of a way: pins and free motions; effects are filled in by line_up.
std::vector<Play> plays_of(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
                           const DrillGuide* guide);

}  // namespace haftwright::alignment
