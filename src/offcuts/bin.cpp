#include "haftwright/offcuts/bin.hpp"

#include <glm/trigonometric.hpp>

#include <algorithm>
#include <cmath>

#include "bin_parts.hpp"

namespace haftwright {

using namespace offcuts;

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

double offcuts::reach_mm(const Outline& outline, Vec2 direction) {
  std::vector<Node> turned = outline.nodes();
  for (Node& node : turned) node.at = {glm::dot(direction, node.at), cross(direction, node.at)};
  return Outline::trusted(std::move(turned)).bounds().high.x;
}

FlatSize extent_along_grain(const Offcut& offcut) {
  const double along = glm::radians(offcut.grain.along_deg);
  const Vec2 x{std::cos(along), std::sin(along)};
  const Vec2 y = turned_left(x);
  const Outline outline = Outline::trusted(offcut.outline);
  return {reach_mm(outline, x) + reach_mm(outline, -x), reach_mm(outline, y) + reach_mm(outline, -y)};
}

}  // namespace haftwright
