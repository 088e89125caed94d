// What reading a dry fit is put together from: ends of lines, joints in three figures, least squares.
#pragma once

#include <array>
#include <glm/mat3x3.hpp>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "haftwright/alignment/dry_fit.hpp"
#include "haftwright/edits/corrections.hpp"

namespace haftwright::alignment {

/// One end of one joint line. Joints without strips have a front line only.
struct LinePlace {
  std::size_t joint = 0;
  StripEdge strip_edge = StripEdge::front;
  HandleEdge at = HandleEdge::spine;
  auto operator<=>(const LinePlace&) const = default;
};

/// What the readings say of one end.
struct ReadEnd {
  LinePlace place;
  std::optional<double> left_mm;  ///< x in the handle's frame; none where only the step was read
  double left_variance = 0;
  double step_mm = 0;  ///< left less right
  double step_variance = 0;
  bool confirmed = false;  ///< read more than once, so that a slip of the caliper would have shown
};

struct Readings {
  std::vector<ReadEnd> ends;  ///< in order of place
  std::vector<UnusedReading> unused;
  bool from_front = false;  ///< some used reading was taken from the front face
  bool from_pin = false;
  std::string contradiction;  ///< of readings of one end, the suspect named; empty when they agree
};

/// No more than one in a hundred sets of good readings has so large a sum of squares (chi-square).
bool beyond_chance(double chi_square, std::size_t freedom);
Readings gather_readings(const Design& design, const Handle& handle);

/// Three unknowns, of which some may be held at zero, from equations row . unknowns = value.
struct Equation {
  glm::dvec3 row{0, 0, 0};
  double value = 0;
  double variance = 1;
};
struct Solved {
  glm::dvec3 values{0, 0, 0};
  glm::dmat3 covariance{0};
};
Solved least_squares(std::span<const Equation> equations, const std::array<bool, 3>& free);

/// Where the line meets the edge of the handle, at the tang face; nowhere when it misses the handle.
std::optional<double> end_x_mm(const SideLayout& side, const JointShape& shape, StripEdge strip_edge,
                               HandleEdge at);

struct EndAt {
  LinePlace place;
  double x_mm = 0;
  double variance = 1;
};
/// A joint brought to where its ends are; it stays where it is without any. Not read at both edges it keeps
/// its slant, not at both lines its stack (nor where its slant takes up both figures).
struct FittedJoint {
  JointShape shape;
  bool slant_was_read = false;
  std::vector<double> x_mm;       ///< of the given ends, adjusted
  std::vector<double> variances;  ///< of these
  double slant_variance = 0;      ///< in radians
  double chi_square = 0;    ///< what the ends are off from straight lines, in deviations, squared and added
  std::size_t freedom = 0;  ///< how many ends more than figures sought
};
/// No value when a line misses the handle.
std::optional<FittedJoint> fit_joint(const SideLayout& side, const JointShape& start,
                                     std::span<const EndAt> ends);

/// One motion of the right scale for all steps.
struct RigidFit {
  Pose pose;
  Vec2 about_mm{0, 0};
  Measured shift_mm;
  Measured turn_deg;
  std::optional<Measured> across_mm;
};
RigidFit fit_motion(const Design& design, const Handle& handle, std::span<const ReadEnd> ends);

/// "joint 1, front line, at the spine".
std::string place_words(const LinePlace& place, bool strips);

}  // namespace haftwright::alignment
