#include "haftwright/handle/shared_lines.hpp"

#include <algorithm>

namespace haftwright {
namespace {

LineOnSide front_of(const SideLayout& side) {
  return {side.front, side.front_spine, side.front_belly};
}

LineOnSide line_of(const JointLine& line) {
  return {line.plane, line.spine, line.belly};
}

}  // namespace

std::vector<SharedLine> shared_lines(const Handle& handle) {
  std::vector<SharedLine> shared{
      {.spot = {.thing = Thing::front_face}, .left = front_of(handle.left), .right = front_of(handle.right)}};
  const std::size_t joints = std::min(handle.left.joints.size(), handle.right.joints.size());
  for (std::size_t j = 0; j < joints; ++j) {
    const auto& left = handle.left.joints[j].lines;
    const auto& right = handle.right.joints[j].lines;
    const std::size_t lines = std::min(left.size(), right.size());
    for (std::size_t l = 0; l < lines; ++l) {
      Spot spot{.thing = Thing::joint, .index = j};
      if (lines > 1) spot.line = l;
      shared.push_back({j, l, spot, line_of(left[l]), line_of(right[l])});
    }
  }
  return shared;
}

}  // namespace haftwright
