#include "grain_frame.hpp"

#include <cmath>
#include <numbers>

namespace haftwright::preview {
namespace {

constexpr double kRadian = std::numbers::pi / 180;

/// Turns a direction of a side into the handle's frame.
Vec3 placed(Vec3 direction, Which side) {
  return side == Which::left ? direction : Vec3{direction.x, direction.y, -direction.z};
}

/// Somewhere else in the block for every part, so that no two look like one sawn through.
Vec3 block_place(const Part& part) {
  const double n = static_cast<double>(part.index + 7 * part.joint) + 1;
  return placed({37.0 * n, 11.0 * std::fmod(n * 0.618, 1.0), 3.0 * std::fmod(n * 0.414, 1.0)}, part.side);
}

}  // namespace

GrainAxes axes_of(const Grain& grain) {
  const double along = grain.along_deg * kRadian;
  const double dip = grain.dip_deg * kRadian;
  const double rings = grain.rings_deg * kRadian;
  const Vec3 fibre{std::cos(along) * std::cos(dip), std::sin(along) * std::cos(dip), std::sin(dip)};
  const Vec3 upright{-std::cos(along) * std::sin(dip), -std::sin(along) * std::sin(dip), std::cos(dip)};
  return {fibre, upright * std::cos(rings) + glm::cross(fibre, upright) * std::sin(rings)};
}

GrainFrame piece_grain(const Grain& grain, const Part& part) {
  const GrainAxes axes = axes_of(grain);
  return {block_place(part), placed(axes.fibre, part.side), placed(axes.radial, part.side)};
}

GrainFrame spacer_grain(const Part& part) {
  const Vec3 across = glm::normalize(Vec3{1, -part.front.tan_slant, -part.front.tan_rake});
  const Vec3 along = glm::normalize(Vec3{part.front.tan_slant, 1, 0});
  return {block_place(part), placed(along, part.side), placed(across, part.side)};
}

GrainFrame liner_grain(const Part& part) {
  return {block_place(part), {1, 0, 0}, placed({0, 0, 1}, part.side)};
}

}  // namespace haftwright::preview
