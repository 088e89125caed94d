// Where the joint lines of the two sides miss each other: the right side is mirrored onto the left and each
// line held against its partner.
#pragma once

#include <cstddef>
#include <vector>

#include "haftwright/handle/handle.hpp"

namespace haftwright {

/// One joint line of the left side and its partner, the right side's mirrored through the mid-plane. Points
/// are in the handle's frame, z positive on both. The front face counts as a line of its own.
struct LinePair {
  bool front_face = false;
  std::size_t joint = 0;    ///< not for the front face
  std::size_t line = 0;     ///< front to rear within the joint
  std::vector<Vec3> left;   ///< on the finished surface, belly to spine
  std::vector<Vec3> right;  ///< the partner; empty when the right side has none
  /// How far apart along x the two lines reach the edge on the finished surface; positive when the right one
  /// lies nearer the butt.
  double step_at_spine_mm = 0;
  double step_at_belly_mm = 0;
  Vec3 spine{0, 0, 0};  ///< half-way between the two ends, to mark and label the step at
  Vec3 belly{0, 0, 0};
  double largest_mm() const;
};

/// Pairs by joint and line; a line that has no partner stands alone with steps of 0.
std::vector<LinePair> pair_joint_lines(const Handle& handle);

}  // namespace haftwright
