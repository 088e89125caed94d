// Where a caliper reading is taken, and which one comes next.
#pragma once

#include <optional>

#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// On the tang face in plan, as laid out: the reading is how far `to` lies from `from` along x. A step has
/// both where the line of its side ends.
struct ReadingPlace {
  Vec2 from{0, 0};  ///< end of the front face at that edge, or the near side of the pin
  Vec2 to{0, 0};    ///< end of the joint line
};
/// No value for a joint or pin that is not there; see unused_readings() for why.
std::optional<ReadingPlace> reading_place(const Design& design, const Handle& handle,
                                          const CaliperReading& reading);

/// The joint that a reading is of, counted from the front from 0: both sides must have it, at one place in
/// their order, since they meet in their order. None where they do not.
std::optional<std::size_t> joint_read(const Design& design, const CaliperReading& reading);

/// Joints that both sides have.
std::size_t common_joints(const Handle& handle);

/// The next reading of its kind in a round that leaves nothing out: the right side after the left (of
/// lengths), the belly after the spine, the rear edge of strips after the front one, joints front to rear;
/// datum and accuracy stay. Places that were read already are passed over while there are others. Its length
/// is 0.
CaliperReading next_reading(const Design& design, const Handle& handle, const CaliperReading& last);

}  // namespace haftwright
