#include "fibres.hpp"

#include <algorithm>
#include <cmath>

#include <glm/trigonometric.hpp>

#include "haftwright/geometry/vec.hpp"

namespace haftwright::cutting {
namespace {

constexpr double kUpright = 1e-9;  // how much of a fibre's direction lies in the face where it stands upright
constexpr double kRounding = 1e-12;  // of the cosine of an angle that is just met

Vec3 fibre(const Grain& grain) {
  const double along = glm::radians(grain.along_deg);
  const double dip = glm::radians(grain.dip_deg);
  return {std::cos(along) * std::cos(dip), std::sin(along) * std::cos(dip), std::sin(dip)};
}

/// From the piece's x, y and outward direction to the offcut's frame, before turning.
Vec3 laid(const Vec3& v, const Lie& lie) {
  return {lie.mirrored() ? -v.x : v.x, v.y, lie.lower_face ? -v.z : v.z};
}

Vec3 turned(const Vec3& v, double turn_rad) {
  return {v.x * std::cos(turn_rad) - v.y * std::sin(turn_rad),
          v.x * std::sin(turn_rad) + v.y * std::cos(turn_rad), v.z};
}

}  // namespace

std::vector<nesting::Angles> turns(const Grain& piece, const Grain& offcut, const Lie& lie,
                                   double most_off_deg) {
  const Vec3 has = fibre(offcut);
  std::vector<nesting::Angles> found;
  for (const double end : {1.0, -1.0}) {
    const Vec3 wants = laid(fibre(piece), lie) * end;
    const double level = std::hypot(has.x, has.y) * std::hypot(wants.x, wants.y);
    if (level < kUpright) {
      // A fibre that stands upright in the face has no direction there: any turn is as good as another.
      if (glm::degrees(std::acos(std::clamp(glm::dot(has, wants), -1.0, 1.0))) <= most_off_deg)
        found.push_back({0, 180});
      continue;
    }
    // Two directions are `off` apart where level cos(turn) + has.z wants.z = cos(off).
    const double least = (std::cos(glm::radians(most_off_deg)) - has.z * wants.z) / level;
    if (least > 1 + kRounding) continue;
    const double play = glm::degrees(std::acos(std::clamp(least, -1.0, 1.0)));
    const double middle = std::atan2(has.y, has.x) - std::atan2(wants.y, wants.x);
    found.push_back({std::remainder(glm::degrees(middle), 360), play});
  }
  return found;
}

std::vector<nesting::Angles> common_turns(const std::vector<nesting::Angles>& some,
                                          const std::vector<nesting::Angles>& others) {
  std::vector<nesting::Angles> common;
  for (const nesting::Angles& a : some)
    for (const nesting::Angles& b : others) {
      const double apart = std::remainder(b.middle_deg - a.middle_deg, 360.0);
      const double low = std::max(-a.play_deg, apart - b.play_deg);
      const double high = std::min(a.play_deg, apart + b.play_deg);
      if (low <= high) common.push_back({a.middle_deg + (low + high) / 2, (high - low) / 2});
    }
  return common;
}

double fibre_off_deg(const Grain& piece, const Grain& offcut, const Lie& lie, double turn_deg) {
  const Vec3 lies = turned(laid(fibre(piece), lie), glm::radians(turn_deg));
  return glm::degrees(std::acos(std::clamp(std::abs(glm::dot(lies, fibre(offcut))), 0.0, 1.0)));
}

}  // namespace haftwright::cutting
