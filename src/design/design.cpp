#include "haftwright/design/design.hpp"

#include <algorithm>
#include <stdexcept>

#include "haftwright/reference/drills.hpp"

namespace haftwright {

double HoleSize::actual_mm() const {
  if (diameter_mm) return *diameter_mm;
  if (const auto listed = find_drill(drill)) return listed->diameter_mm;
  if (drill.empty()) throw std::invalid_argument("the hole has neither a drill nor a diameter");
  throw std::invalid_argument("no listed drill is called \"" + drill + "\"");
}

Side Design::right_side() const {
  Side side = left;
  if (right.liners) side.liners = *right.liners;
  if (right.pieces) side.pieces = *right.pieces;
  if (right.joints) side.joints = *right.joints;
  if (right.front) side.front = *right.front;
  if (right.butt_proud_mm) side.butt_proud_mm = *right.butt_proud_mm;
  if (right.finish) side.finish = *right.finish;
  return side;
}

const std::vector<Piece>& Design::pieces(Which side) const {
  return side == Which::right && right.pieces ? *right.pieces : left.pieces;
}

const std::vector<Joint>& Design::joints(Which side) const {
  return side == Which::right && right.joints ? *right.joints : left.joints;
}

const Material* Design::material(std::string_view key) const {
  const auto own = std::ranges::find(own_materials, key, &Material::key);
  return own != own_materials.end() ? &*own : find_material(key);
}

bool Design::mirrored() const {
  if (right == SideOverrides{}) return true;
  Side other = right_side();
  const auto take_ids = [](auto& to, const auto& from) {
    for (std::size_t i = 0; i < std::min(to.size(), from.size()); ++i) to[i].id = from[i].id;
  };
  take_ids(other.pieces, left.pieces);
  take_ids(other.joints, left.joints);
  return other == left;
}

}  // namespace haftwright
