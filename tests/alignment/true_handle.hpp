// A handle as it really is: a design whose scales are off, and the readings a caliper takes on it.
#pragma once

#include <cmath>
#include <numbers>
#include <optional>

#include "haftwright/alignment/dry_fit.hpp"
#include "haftwright/design/ids.hpp"
#include "haftwright/design/validate.hpp"
#include "haftwright/handle/lay_out.hpp"
#include "support/random.hpp"

namespace haftwright::test {

inline constexpr double kDegrees = 180 / std::numbers::pi;

/// A standard normal number (Box and Muller 1958).
inline double normal(Random& random) {
  const double radius = std::sqrt(-2 * std::log(1 - random.between(0, 1)));
  return radius * std::cos(2 * std::numbers::pi * random.between(0, 1));
}

/// A joint turned about `about` and then shifted: two of its points are carried along.
inline Joint carried(Joint joint, Vec2 about, Vec2 shift, double turn) {
  const double slant = std::tan(joint.slant_deg / kDegrees);
  const auto carry = [&](Vec2 p) {
    const Vec2 d = p - about;
    return about + shift +
           Vec2{d.x * std::cos(turn) - d.y * std::sin(turn), d.x * std::sin(turn) + d.y * std::cos(turn)};
  };
  const Vec2 low = carry({joint.place_mm - 10 * slant, -10});
  const Vec2 high = carry({joint.place_mm + 10 * slant, 10});
  const double after = (high.x - low.x) / (high.y - low.y);
  joint.place_mm = low.x - low.y * after;
  joint.slant_deg = std::atan(after) * kDegrees;
  return joint;
}

struct Offset {
  Vec2 about{0, 0};
  Vec2 shift{0, 0};
  double turn = 0;  ///< radians
};
inline Design with_right_off(Design design, const Offset& offset) {
  std::vector<Joint> joints = design.right_side().joints;
  for (Joint& joint : joints) joint = carried(joint, offset.about, offset.shift, offset.turn);
  design.right.joints = joints;
  return design;
}

/// Every joint of both sides off on its own.
inline Design with_blanks_off(Design design, Random& random, double place_mm, double slant_deg) {
  std::vector<Joint> right = design.right_side().joints;
  for (std::vector<Joint>* joints : {&design.left.joints, &right})
    for (Joint& joint : *joints) {
      joint.place_mm += random.between(-place_mm, place_mm);
      joint.slant_deg += random.between(-slant_deg, slant_deg);
    }
  design.right.joints = right;
  return design;
}

inline std::optional<Handle> try_lay_out(const Design& design) {
  if (!validate(design).empty()) return std::nullopt;
  try {
    return lay_out(design);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

inline const LineEnd& end_of(const SideLayout& side, std::size_t joint, StripEdge strip_edge, HandleEdge at) {
  const auto& lines = side.joints[joint].lines;
  const JointLine& line = strip_edge == StripEdge::front ? lines.front() : lines.back();
  return at == HandleEdge::spine ? line.spine : line.belly;
}

inline double step_of(const Handle& handle, std::size_t joint, StripEdge strip_edge, HandleEdge at) {
  return end_of(handle.left, joint, strip_edge, at).inner.x -
         end_of(handle.right, joint, strip_edge, at).inner.x;
}

/// One reading, exact but for `off_mm`; of the foremost joint unless it says another.
inline CaliperReading take_reading(const Design& design, const Handle& truth, CaliperReading what,
                                   double off_mm) {
  const SideLayout& side = truth.side(what.side);
  if (what.joint.empty()) what.joint = design.left.joints.front().id;
  const std::size_t joint = index_of(design.joints(what.side), what.joint);
  const Vec2 end(end_of(side, joint, what.strip_edge, what.at).inner);
  const double x = end.x;
  what.reading_mm =
      glm::distance(end, Vec2((what.at == HandleEdge::spine ? side.front_spine : side.front_belly).inner));
  for (const Pin& pin : design.pins)
    if (pin.id == what.from_pin) what.reading_mm = std::abs(x - pin.at_mm.x) - pin.stock.diameter_mm() / 2;
  what.reading_mm += off_mm;
  return what;
}

inline std::size_t joints_in_common(const Handle& handle) {
  return std::min(handle.left.joints.size(), handle.right.joints.size());
}

inline bool rear_lines_meet(const Handle& handle, std::size_t joint) {
  const std::size_t left = handle.left.joints[joint].lines.size();
  return left > 1 && left == handle.right.joints[joint].lines.size();
}

/// Readings at every end that both sides have, with normal errors of half their accuracy times `noise`.
inline std::vector<CaliperReading> read_all(const Design& design, const Handle& truth, Random& random,
                                            double accuracy_mm, double noise,
                                            const std::string& from_pin = {}) {
  std::vector<CaliperReading> readings;
  for (std::size_t j = 0; j < joints_in_common(truth); ++j)
    for (const StripEdge strip_edge : {StripEdge::front, StripEdge::rear}) {
      if (strip_edge == StripEdge::rear && !rear_lines_meet(truth, j)) continue;
      for (const HandleEdge at : {HandleEdge::spine, HandleEdge::belly})
        for (const Which side : {Which::left, Which::right})
          readings.push_back(take_reading(design, truth,
                                          {.joint = design.left.joints[j].id,
                                           .strip_edge = strip_edge,
                                           .at = at,
                                           .side = side,
                                           .from_pin = from_pin,
                                           .accuracy_mm = accuracy_mm},
                                          noise * accuracy_mm / 2 * normal(random)));
    }
  return readings;
}

}  // namespace haftwright::test
