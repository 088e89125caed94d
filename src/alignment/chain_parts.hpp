// What the parts of a chain are put together from: who is off by how much, side by side.
#pragma once

#include <cmath>
#include <map>
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

/// Errors of one line (a joint's or the front face) on one side's blank.
struct BlankErrors {
  Terms place;  ///< mm at limit
  Term square;  ///< radians at limit
  Term rake;    ///< radians at limit
};

struct BuiltBlank {
  BlankErrors front;
  std::vector<std::vector<BlankErrors>> joints;  ///< each with its lines, front to rear
  const BlankErrors& of(const MeetingPlace& place) const {
    return place.joint ? joints[*place.joint][place.line] : front;
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

/// Sums terms of the same variable; what cancels is left out.
class TermSum {
 public:
  TermSum() = default;
  explicit TermSum(const Terms& terms) { add(terms, 1); }
  void add(const Terms& terms, double factor) {
    for (const Term& term : terms) sums_[term.variable] += term.mm_at_limit * factor;
  }
  Terms terms() const {
    Terms kept;
    for (const auto& [variable, size] : sums_)
      if (std::abs(size) > kNothing) kept.push_back({variable, size});
    return kept;
  }

 private:
  static constexpr double kNothing = 1e-12;  // mm: rounding of what cancels
  std::map<std::size_t, double> sums_;
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

/// What moves in a play: the left scale, the right one, one against the other, the tang alone; or one scale
/// against the other while their front faces are shaped, which counts at those alone.
enum class Moving { left, right, either, tang, either_at_fronts };
struct PlayOf {
  Moving moving = Moving::either;
  Play play;
};
/// The plays of a way: pins and free motions; effects are filled in by line_up.
std::vector<PlayOf> plays_of(Variables& variables, const Design& design, const Handle& handle, DrillWay way,
                             const DrillGuide* guide);

}  // namespace haftwright::alignment
