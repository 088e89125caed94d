#include "haftwright/preview/mismatch.hpp"

#include <algorithm>
#include <cmath>

#include "surface_lines.hpp"

namespace haftwright {

using namespace preview;
namespace {

Vec3 mirrored(Vec3 p) {
  return {p.x, p.y, -p.z};
}

}  // namespace

double LinePair::largest_mm() const {
  return std::max(std::abs(step_at_spine_mm), std::abs(step_at_belly_mm));
}

std::vector<LinePair> pair_joint_lines(const Handle& handle) {
  const std::vector<SurfaceLine> right = surface_lines(handle, handle.right);
  std::vector<LinePair> pairs;
  for (SurfaceLine& line : surface_lines(handle, handle.left)) {
    LinePair pair{.front_face = line.front_face, .joint = line.joint, .line = line.line};
    pair.spine = line.spine.outer;
    pair.belly = line.belly.outer;
    pair.left = std::move(line.points);
    const auto partner = std::find_if(right.begin(), right.end(), [&](const SurfaceLine& other) {
      return other.front_face == pair.front_face && other.joint == pair.joint && other.line == pair.line;
    });
    if (partner != right.end()) {
      pair.right.resize(partner->points.size());
      std::transform(partner->points.begin(), partner->points.end(), pair.right.begin(), mirrored);
      pair.step_at_spine_mm = partner->spine.outer.x - pair.spine.x;
      pair.step_at_belly_mm = partner->belly.outer.x - pair.belly.x;
      pair.spine = (pair.spine + mirrored(partner->spine.outer)) / 2.0;
      pair.belly = (pair.belly + mirrored(partner->belly.outer)) / 2.0;
    }
    pairs.push_back(std::move(pair));
  }
  return pairs;
}

}  // namespace haftwright
