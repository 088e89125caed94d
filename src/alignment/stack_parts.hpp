// What the parts of a stack are put together from: who is off by how much, side by side.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "haftwright/alignment/ways.hpp"

namespace haftwright::alignment {

struct DrillingMethod;

/// A variable at its limit moves a scale by this.
struct Setting {
  std::size_t variable = 0;
  Pose pose;
};
using Settings = std::vector<Setting>;

/// Errors of one line (a joint's or the front face) on one side's blank.
struct BlankErrors {
  Sensitivities place;  ///< mm at limit
  Sensitivity square;   ///< radians at limit
  Sensitivity rake;     ///< radians at limit
};

struct BuiltBlank {
  BlankErrors front;
  std::vector<std::vector<BlankErrors>> joints;  ///< each with its lines, front to rear
  const BlankErrors& of(const MeetingPlace& place) const {
    return place.joint ? joints[*place.joint][place.line] : front;
  }
};

/// Contributors and variables of a stack as they are named.
class Variables {
 public:
  Variables(const Design& design, LineUp& line_up) : design_(design), line_up_(line_up) {}

  /// A variable of one of the shop's errors, with its size in the error's own unit (mm, or radians for
  /// degrees).
  Sensitivity of(double ShopErrors::*error, Sharing sharing);
  /// A variable with a size from elsewhere, evenly spread.
  Sensitivity even(const Contributor& contributor, double size_mm, Sharing sharing);
  /// The same for a lean, in mm for each mm of depth; told in degrees.
  Sensitivity even_lean(const Contributor& contributor, double slope, Sharing sharing);

 private:
  Sensitivity add(const Contributor& contributor, double size, const ContributorInfo& info);

  const Design& design_;
  LineUp& line_up_;
};

/// A blank is glued up from the front: a joint's place is off by the lengths of all pieces ahead of it, and
/// by the strips and glue films between them.
BuiltBlank blank_errors(Variables& variables, const SideLayout& side, Sharing joints, Sharing front);
/// The right side's blank when both are sawn from one block: its joints have the left's place and slant, and
/// its rake the other way. So has the front face as it was sawn; where each side's is shaped by itself it is
/// the side's own.
BuiltBlank other_half(Variables& variables, const BuiltBlank& left, bool fronts_as_sawn);
/// A front face by itself.
BlankErrors front_errors(Variables& variables, Sharing sharing);

/// How far a blank's own errors move this end along x.
Sensitivities blank_sensitivities(const BlankErrors& errors, const EndEffects& end);

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
/// A scale lined up by eye: what it is set along and turned by, and who has these errors.
struct ByEye {
  double ShopErrors::*along;
  double ShopErrors::*turn;
  Sharing sharing;
};
/// By eye at one line, the right scale as `right` says; the left one stays where it is where `left` is empty,
/// as two that are set against each other are off once.
BothSettings set_by_eye(Variables& variables, const SettingInput& input, const std::optional<ByEye>& left,
                        const ByEye& right);
/// Each scale on the guide's fences, its joint lines at the sight windows.
BothSettings set_on_guide(Variables& variables, const SettingInput& input);
/// The place that the eye lines up: at the spine, at the tang face.
const MeetingPlace& reference_place(const Design& design, const std::vector<MeetingPlace>& places);

/// What moves in a clearance: the left scale, the right one, one against the other, the tang alone; or one
/// scale against the other while their front faces are shaped, which counts at those alone.
enum class Moving { left, right, either, tang, either_at_fronts };
struct ClearanceOf {
  Moving moving = Moving::either;
  PatternClearance clearance;
};
/// The clearances of a method: pins and free motions; effects are filled in by line_up.
std::vector<ClearanceOf> clearances_of(Variables& variables, const Design& design, const Handle& handle,
                                       const DrillingMethod& method, const DrillGuide* guide);

}  // namespace haftwright::alignment
