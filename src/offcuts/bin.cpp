#include "haftwright/offcuts/bin.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

namespace haftwright {

const Material* Bin::material(std::string_view key) const {
  const auto own = std::ranges::find(own_materials, key, &Material::key);
  return own == own_materials.end() ? find_material(key) : &*own;
}

std::vector<Node> rectangle(const FlatSize& size) {
  return {{{0, 0}}, {{size.length_mm, 0}}, {{size.length_mm, size.width_mm}}, {{0, size.width_mm}}};
}

std::optional<FlatSize> rectangle_size(const std::vector<Node>& chain) {
  if (chain.size() != 4) return std::nullopt;
  const FlatSize size{chain[2].at.x, chain[2].at.y};
  if (chain != rectangle(size)) return std::nullopt;
  return size;
}

FlatSize extent_along_grain(const Offcut& offcut) {
  const double turn = -glm::radians(offcut.grain.along_deg);
  const Vec2 x{std::cos(turn), std::sin(turn)};
  std::vector<Node> turned = offcut.outline;
  for (Node& node : turned) node.at = node.at.x * x + node.at.y * turned_left(x);
  const Vec2 size = Outline::trusted(std::move(turned)).bounds().size();
  return {size.x, size.y};
}

}  // namespace haftwright
